import { once } from 'node:events';
import { readdir, readFile } from 'node:fs/promises';
import { connect } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { isAlive } from '../../src/database/embedded/cluster-location.js';
import { eraseEmbedded } from '../../src/database/embedded/server.js';
import { folder, postmasterOf } from '../support/embedded.js';
import { personFixture } from '../support/fixtures.js';
import { type Program, run } from '../support/program.js';
import { beginStudio, EMAIL, PASSWORD, type Served } from './begin-studio.js';

// One studio from its first start to a bill and a notice, as its owner lives it: over HTTP only, on a database of the program's own.
const data = await folder();
const postgres = join(data, 'database', 'postgres');
/** As long as the program lasts. */
let served: Served & { program: Program };

beforeAll(async () => {
  served = await start();
  const [, link = ''] = await served.program.prints(/within a day: (\S+)$/m);
  served.link = link;
});
afterAll(async () => {
  served.program.process.kill('SIGKILL');
  await served.program.ended;
  await eraseEmbedded(join(data, 'database'), () => undefined);
});

async function start() {
  const program = run(['serve'], { WAREBOARD_DATA: data, PORT: '0' });
  const [, address = ''] = await program.prints(/^Wareboard is at (http:\S+)$/m);
  return { program, address, link: '', letters };
}

async function letters(): Promise<Buffer[]> {
  const names = await readdir(join(data, 'outbox')).catch(() => []);
  return Promise.all(names.map((name) => readFile(join(data, 'outbox', name))));
}

describe.sequential('a studio', () => {
  const foundAgain = beginStudio(() => served);

  test('finds everything again after a kill -9 in the middle of the work', async () => {
    const postmaster = postmasterOf(postgres);
    const owner = await foundAgain();
    const [booking] = (await owner.get('/api/debtors')).json().items;
    const sent = Array.from({ length: 10 }, () => personFixture(owner).catch(() => undefined));
    await sleep(40);
    served.program.process.kill('SIGKILL');
    const acknowledged = (await Promise.all(sent)).filter((person) => person !== undefined);
    expect(await served.program.ended).toBe('SIGKILL');
    expect(isAlive(postmaster)).toBe(true); // the database outlives the program and is taken over

    served = await start();
    expect(served.program.out()).not.toContain('set-up');
    const again = await foundAgain();
    const names = (await again.get('/api/people?limit=200')).json().items.map(({ name }: { name: string }) => name);
    for (const person of acknowledged) expect(names).toContain(person.name);
    expect((await again.get('/api/debtors')).json().items[0]).toEqual(booking);
  });

  test('finds everything again after the database too was killed', async () => {
    process.kill(postmasterOf(postgres), 'SIGKILL');
    served.program.process.kill('SIGKILL');
    await served.program.ended;
    served = await start();
    await foundAgain();
  });

  test('stops at Ctrl-C once the requests under way are answered, and takes the database with it', async () => {
    const postmaster = postmasterOf(postgres);
    const request = await halfSent(served.address, { email: EMAIL, password: PASSWORD });
    served.program.process.kill('SIGINT');
    await served.program.prints(/^Stopping once the requests and emails under way are finished\.$/m);
    expect(isAlive(postmaster)).toBe(true);
    expect(await request.finish()).toMatch(/^HTTP\/1\.1 204 .*set-cookie: wareboard=/is);
    expect(await served.program.ended).toBe(0);
    expect(postmasterOf(postgres)).toBe(0);
    // it signs off before it is gone, and then the system has still to sweep it up
    await vi.waitFor(() => expect(isAlive(postmaster)).toBe(false), { timeout: 300_000 });
    await expect(fetch(`${served.address}/health`)).rejects.toThrow();
  });

  test('all is well in it', async () => {
    const program = run(['check'], { WAREBOARD_DATA: data });
    expect(await program.ended).toBe(0);
    expect(program.out()).toBe('All is well: no rule is broken.\n');
  });
});

/** Begins to sign in, and waits with the body once the server has taken up the request. */
async function halfSent(address: string, credentials: object) {
  const { port, hostname } = new URL(address);
  const body = JSON.stringify(credentials);
  const head = ['POST /api/sign-in HTTP/1.1', `Host: ${hostname}`, 'Sec-Fetch-Site: none', 'Connection: close'];
  const about = ['Content-Type: application/json', `Content-Length: ${body.length}`, 'Expect: 100-continue'];
  const socket = connect(Number(port), hostname);
  socket.write(`${[...head, ...about].join('\r\n')}\r\n\r\n`);
  const [taken] = await once(socket, 'data');
  expect(String(taken)).toMatch(/^HTTP\/1\.1 100 Continue/);
  const finish = async () => {
    socket.write(body);
    let answer = '';
    for await (const bytes of socket) answer += bytes;
    return answer;
  };
  return { finish };
}
