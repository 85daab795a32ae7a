import { startEmbedded } from '../../src/database/embedded/server.js';
import { SMALL } from './server.js';

// A process that uses the embedded server of a data folder until its input ends: what the tests start several of, and kill.
const [dataFolder = '', elsewhere, binaries] = process.argv.slice(2);
const say = (line: string) => process.stdout.write(`${line}\n`);
process.on('SIGINT', () => say('interrupted'));
try {
  const server = await startEmbedded(dataFolder, say, {
    settings: SMALL,
    ...(elsewhere && { elsewhere }),
    ...(binaries && { binaries }),
  });
  say(`url ${server.url}`);
  process.stdin.resume().on('end', async () => {
    await server.stop();
    process.exit(0);
  });
} catch (error) {
  say(`refused ${(error as Error).name}: ${(error as Error).message}`);
  process.exit(1);
}
