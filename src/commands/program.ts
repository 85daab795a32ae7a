import { Command, Option } from 'commander';
import { CannotStart, loadConfig } from '../config.js';
import { problemFor } from '../database/sqlstate.js';
import { VERSION } from '../version.js';

/** The demo keeps to a place of its own: invented people have no business in a real database. */
const NOT_OURS = { DATABASE_URL: '', DATABASE_URL_FILE: '', SMTP_URL: '', SMTP_URL_FILE: '' };
const DEMO = { WAREBOARD_DATA: './data/demo', ...process.env, ...NOT_OURS };

/** The command line. Each command is loaded when it is called, so that a short one stays quick. */
function program(): Command {
  const wareboard = new Command('wareboard')
    .description('Runs a small teaching pottery. Settings come from the environment; see docs/running.md.')
    .version(VERSION);
  wareboard
    .command('serve')
    .description('serve the studio: API, desk and emails')
    .addOption(new Option('--only <half>', 'one half in a process of its own').choices(['api', 'worker']))
    .action(async (options) => (await import('./serve.js')).serve(loadConfig(process.env), options));
  wareboard
    .command('demo')
    .description('show the whole job on an invented studio, then serve it')
    .option('--once', 'print the report and write the papers, without serving')
    .option('--fresh', 'forget what was done in the demo and start again')
    .action(async (options) => (await import('./demo.js')).demo(loadConfig(DEMO), options));
  wareboard
    .command('migrate')
    .description('bring the tables up to date')
    .action(async () => (await import('./migrate.js')).migrateStudio(loadConfig(process.env)));
  wareboard
    .command('check')
    .description('look for broken rules in the whole database')
    .action(async () => (await import('./check.js')).check(loadConfig(process.env)));
  wareboard
    .command('password')
    .description('print a link by which somebody who lost their password chooses another')
    .argument('<email>', 'the address they sign in with')
    .action(async (email) => (await import('./password.js')).password(loadConfig(process.env), email));
  wareboard
    .command('backup')
    .description('write everything in the studio to one new file, while it runs')
    .argument('<file>', 'such as studio-2026-03-10.tar.gz')
    .action(async (file) => (await import('./backup.js')).backup(loadConfig(process.env), file));
  wareboard
    .command('restore')
    .description('restore a backup into an empty database')
    .argument('<file>', 'what backup wrote')
    .option('--check', 'compare its checksums, and write nothing')
    .action(async (file, options) =>
      (await import('./restore.js')).restore(() => loadConfig(process.env), file, options),
    );
  wareboard
    .command('openapi')
    .description('print the OpenAPI document')
    .action(async () => (await import('./openapi.js')).openapi());
  return wareboard;
}

/** Runs a command. What the person can mend is said in plain words and ends with 1; anything else is a fault of ours, with its trace. */
export async function runCommand(argv: readonly string[]): Promise<void> {
  try {
    await program().parseAsync(argv);
  } catch (error) {
    console.error(error instanceof CannotStart ? error.message : (problemFor(error)?.detail ?? error));
    process.exitCode = 1;
  }
}
