/** The half of the proof that runs in a process of its own: the flows of combined operations. */
import { combinedFlowsOf, singleFlowsOf } from '../prove/library-flows.ts';
import { proveDerived } from '../prove/prove.ts';
import { loadLibrary } from './load-library.ts';

const library = loadLibrary();
const reports = library.ok
  ? proveDerived({ single: singleFlowsOf(library.value), derived: combinedFlowsOf(library.value) })
  : [];
process.send?.(reports);
