import { execFile } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const execute = promisify(execFile);
const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** What a command printed. @throws with all it said where it fails */
export async function docker(...args: string[]): Promise<string> {
  return (await execute('docker', args, { cwd: ROOT, maxBuffer: 64 * 2 ** 20 })).stdout.trim();
}

/** The studio of docker-compose.yml under a name, a port and a secret of its own, so that a real one beside it is left alone. */
export async function composed() {
  const folder = await mkdtemp(join(tmpdir(), 'wareboard-compose-'));
  const password = randomBytes(24).toString('hex');
  const [secret, override] = [join(folder, 'database-password'), join(folder, 'override.json')];
  await writeFile(secret, `${password}\n`);
  await writeFile(override, JSON.stringify(await overriding(secret, password)));
  const port = await freePort();
  const address = `http://127.0.0.1:${port}`;
  const program = await composeProgram();
  const files = ['-f', 'docker-compose.yml', '-f', override, '-p', `wareboardtest${process.pid}`];
  const compose = async (...args: string[]) => {
    const [command, ...first] = [...program, ...files, ...args];
    const env = { ...process.env, PORT: String(port), BASE_URL: address };
    return (await execute(command ?? '', first, { cwd: ROOT, env, maxBuffer: 64 * 2 ** 20 })).stdout.trim();
  };
  const erase = async () => {
    await compose('down', '-v');
    await rm(folder, { recursive: true });
  };
  return { address, compose, erase };
}

/** An image to try in place of one built from this tree. */
export const TEST_IMAGE = process.env.TEST_IMAGE;

/** The secret of this run; the image where one is given; and where an image that stands in for the official one reads no _FILE, the password itself. */
async function overriding(secret: string, password: string) {
  const secrets = { 'database-password': { file: secret } };
  const entry = await docker('image', 'inspect', 'postgres:18', '--format', '{{.Config.Entrypoint}}').catch(() => '');
  const reads = entry === '' || entry.includes('docker-entrypoint.sh');
  const app = TEST_IMAGE ? { image: TEST_IMAGE } : {};
  const database = reads ? {} : { environment: { POSTGRES_PASSWORD: password } };
  return { secrets, services: { app, database } };
}

async function composeProgram(): Promise<string[]> {
  const plugin = await docker('compose', 'version').catch(() => undefined);
  return plugin === undefined ? ['docker-compose'] : ['docker', 'compose'];
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await new Promise((resolve) => server.once('listening', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('No port is free.');
  return address.port;
}
