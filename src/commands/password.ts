import type { Config } from '../config.js';
import { CannotStart } from '../config.js';
import { inTransaction } from '../database/transaction.js';
import { makeLinkOnMachine } from '../studio/staff/lost-password.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';

/** Prints a link by which somebody who lost their password chooses another: whoever runs commands here could read the database anyway. */
export async function password(config: Config, email: string): Promise<void> {
  const database = await openDatabaseAndMigrate(config, openLog({ logLevel: 'warn' }));
  try {
    const link = await inTransaction(database.db, (tx) => makeLinkOnMachine(tx, new Date(), email, addressOf(config)));
    if ('emails' in link) throw new CannotStart(nobody(email, link.emails));
    console.log(
      `With this link ${link.name} (${link.email}) chooses a new password. It works once, for ${link.hours} hours:`,
    );
    console.log(link.address);
    console.log('Wareboard must be running when it is opened. The password they have works until then.');
  } finally {
    await database.close();
  }
}

function nobody(email: string, emails: readonly string[]): string {
  if (emails.length === 0)
    return 'Nobody can sign in yet. Start Wareboard (npm start), and open the link it prints to set the studio up.';
  return `Nobody signs in as ${email}. These do: ${emails.join(', ')}.`;
}

/** Where the page is: as people reach it from outside, or on this machine. */
function addressOf({ baseUrl, tls, host, port }: Config): string {
  if (baseUrl) return baseUrl;
  const everywhere = host === '0.0.0.0' || host === '::'; // no browser opens these
  const name = everywhere ? '127.0.0.1' : host.includes(':') ? `[${host}]` : host;
  return `${tls ? 'https' : 'http'}://${name}:${port}`;
}
