import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { beginStudio, type Served } from '../acceptance/begin-studio.js';
import { composed, docker, TEST_IMAGE } from './compose.js';

// The image and docker-compose.yml as a studio runs them: built, up, lived in, stopped, taken down and up again.
const { address, compose, erase } = await composed();
const idOf = (service: string) => compose('ps', '-q', service);
const served: Served = { address, link: '', letters };

beforeAll(async () => {
  if (!TEST_IMAGE) await compose('build');
  await compose('up', '-d', '--no-build');
  await healthy();
  const [, link = ''] = (await compose('logs', '--no-color', 'app')).match(/within a day: (\S+)$/m) ?? [];
  served.link = link;
}, 1_200_000);
afterAll(erase, 120_000);

async function healthy(): Promise<void> {
  const state = async () => docker('inspect', await idOf('app'), '--format', '{{.State.Health.Status}}');
  await vi.waitFor(async () => expect(await state()).toBe('healthy'), { timeout: 180_000, interval: 1000 });
}

async function letters(): Promise<Buffer[]> {
  const script = `const fs = require('fs'), at = '/data/outbox/';
    console.log(JSON.stringify(fs.existsSync(at) ? fs.readdirSync(at).map((name) => fs.readFileSync(at + name, 'base64')) : []))`;
  const printed = await docker('exec', await idOf('app'), 'node', '-e', script);
  return (JSON.parse(printed) as string[]).map((text) => Buffer.from(text, 'base64'));
}

describe.sequential('a studio in containers', () => {
  const foundAgain = beginStudio(() => served);

  test('runs as nobody in particular, without what built it', async () => {
    const inside = async (script: string) => docker('exec', await idOf('app'), 'sh', '-c', script);
    expect(await inside('id -u')).not.toBe('0');
    expect(
      await inside('which gcc make python3 tsc; ls node_modules | grep -E "^(typescript|vite|prisma)$"; true'),
    ).toBe('');
    expect(await inside('touch /app/x 2>/dev/null || echo refused')).toBe('refused');
    const environment = await docker('inspect', await idOf('app'), '--format', '{{json .Config.Env}}');
    expect(environment).toContain('DATABASE_PASSWORD_FILE');
    expect(environment).not.toMatch(/postgresql:\/\/[^"]*:[^"]*@/);
  });

  test('is published on this machine only', async () => {
    const published = (await docker('port', await idOf('app'))).split('\n').sort();
    // the desk, and the sample studio beside it
    expect(published.map((line) => line.replace(/\d+$/, 'N'))).toEqual([
      ...['4747/tcp -> 127.0.0.1:N', '4748/tcp -> 127.0.0.1:N'],
    ]);
  });

  test('stops within ten seconds when it is asked to, having finished', async () => {
    const id = await idOf('app');
    const before = Date.now();
    await docker('stop', id);
    expect(Date.now() - before).toBeLessThan(10_000);
    expect(await docker('inspect', id, '--format', '{{.State.ExitCode}}')).toBe('0');
    expect(await compose('logs', '--no-color', 'app')).toContain('Stopping once the requests and emails under way');
  });

  test('is taken down and comes up again with all that was in it', async () => {
    await compose('down');
    expect(await idOf('app').catch(() => '')).toBe('');
    await compose('up', '-d', '--no-build');
    await healthy();
    await foundAgain();
    expect(await docker('exec', await idOf('app'), 'node', 'dist/main.js', 'check')).toContain('All is well');
  }, 300_000);
});
