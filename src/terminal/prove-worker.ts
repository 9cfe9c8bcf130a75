/** The half of the proof that runs in a process of its own: combined operations and surgeons' own rules. */
import { flowsOf } from '../prove/library-flows.ts';
import { proveDerived } from '../prove/prove.ts';
import { loadLibrary } from './load-library.ts';

const library = loadLibrary();
process.send?.(library.ok ? proveDerived(flowsOf(library.value)) : []);
