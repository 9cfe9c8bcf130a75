/** Command: two people sign a script's content until a day, or withdraw it; without a name, says what is signed. */
import { Command } from 'commander';
import { systemClock } from '../basics/system-clock.ts';
import { screen } from './screen.ts';
import { approve, type ApproveOptions } from './sign-flows.ts';

const program = new Command('approve')
  .argument('[procedures...]', 'ids of procedures; several of one operation are joined by +')
  .option('--as <role>', 'surgeon or safety')
  .option('--by <name>', 'who signs or withdraws')
  .option('--until <date>', 'last day of the approval, YYYY-MM-DD')
  .option('--withdraw', 'withdraw every signature on these procedures')
  .option('--surgeon <id>', "with this surgeon's own rules")
  .option('--pairs', 'also every two of the named procedures in one operation')
  .option('--flows <folder>', 'the folder of the scripts', 'flows')
  .exitOverride((error) => {
    screen.exit(error.exitCode === 0 ? 0 : 2);
    throw error;
  });

try {
  program.parse();
  approve({ named: program.args, options: program.opts<ApproveOptions>() }, systemClock, screen);
} catch (error) {
  if (!(error instanceof Error && error.name === 'CommanderError')) throw error;
}
