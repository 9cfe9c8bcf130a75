/** The dialog of the moment over a call. */
import type { CallView } from '../../../desk/contract/call-view.ts';
import type { Opened } from './acts.tsx';
import { CorrectDialog } from './correct-dialog.tsx';
import { DangerDialog } from './danger-dialog.tsx';
import { HungUpDialog, NoteDialog } from './small-dialogs.tsx';
import { AskLoweringDialog, ConfirmLoweringDialog, RaiseDialog } from './outcome-dialogs.tsx';
import type { Session } from './session.ts';
import { VolunteerDialog } from './volunteer-dialog.tsx';

interface Showing {
  readonly opened: NonNullable<Opened>;
  readonly view: CallView;
  readonly session: Session;
  readonly close: () => void;
}

export interface InDialog {
  readonly view: CallView;
  readonly session: Session;
  readonly close: () => void;
}

export function CallDialog({ opened, ...parts }: Showing) {
  switch (opened.what) {
    case 'danger':
      return <DangerDialog {...parts} />;
    case 'volunteer':
      return <VolunteerDialog {...parts} />;
    case 'note':
      return <NoteDialog {...parts} />;
    case 'hung-up':
      return <HungUpDialog {...parts} />;
    case 'raise':
      return <RaiseDialog {...parts} />;
    case 'lower':
      return <AskLoweringDialog {...parts} />;
    case 'confirm':
      return <ConfirmLoweringDialog {...parts} />;
    case 'correct':
      return <CorrectDialog answered={opened.answered} {...parts} />;
  }
}
