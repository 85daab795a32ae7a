import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { getPriority } from 'node:os';
import { afterAll, describe, expect, test } from 'vitest';
import { inThisThread, type Renderer } from '../../src/documents/renderer.js';
import { ThreadRenderer } from '../../src/documents/thread-renderer.js';
import { logoPng } from '../support/pictures.js';
import { PAPERS, paperCalled } from './papers.js';
import { readBack } from './read-back.js';
import { manyPieces, notice, plainReceipt } from './samples.js';

const opened: ThreadRenderer[] = [];
afterAll(() => Promise.all(opened.map((each) => each.close())));

function threadRenderer(settings: ConstructorParameters<typeof ThreadRenderer>[0]): ThreadRenderer {
  const renderer = new ThreadRenderer(settings);
  opened.push(renderer);
  return renderer;
}

const support = (file: string) => new URL(`../support/${file}`, import.meta.url);
const ours = threadRenderer({ thread: support('source-thread.mjs') });
const faulty = (settings: object = {}) => threadRenderer({ thread: support('dying-thread.mjs'), ...settings });
const askFor = (renderer: Renderer, ...hows: string[]) =>
  hows.map((how) =>
    renderer.render('receipt', how, null).then(
      (pdf) => `${pdf.length} byte`,
      (error) => `${error.type} ${error.code}`,
    ),
  );

describe('a paper from the thread', () => {
  test.each(Object.keys(PAPERS))('%s: is the same, byte for byte and so word for word', async (name) => {
    const logo = logoPng(60, 40);
    const { kind, content } = paperCalled(name);
    const asked = [kind, { ...content, logo: createHash('sha256').update(logo).digest('hex') }, logo] as const;
    const [pdf, here] = [await ours.render(...asked), await inThisThread.render(...asked)];
    expect(Buffer.compare(pdf, here)).toBe(0);
    expect((await readBack(pdf)).text).toContain('Alder Lane Pottery');
  });

  test('comes back as the error that it makes here', async () => {
    const broken = { ...plainReceipt, totalMinor: 1, number: 'R-1' };
    const failed = async (renderer: Renderer, ...asked: Parameters<Renderer['render']>) => {
      const error = await renderer.render(...asked).catch((error) => error);
      return { of: error.constructor, name: error.name, message: error.message, issues: error.issues };
    };
    const invalid = await failed(ours, 'receipt', broken, null);
    expect(invalid).toEqual(await failed(inThisThread, 'receipt', broken, null));
    expect(invalid.name).toBe('ZodError');
    expect(invalid.issues.length).toBeGreaterThan(0);
    const otherLogo = ['receipt', { ...plainReceipt, logo: 'a'.repeat(64) }, null] as const;
    expect(await failed(ours, ...otherLogo)).toEqual(await failed(inThisThread, ...otherLogo));
    await expect(ours.render(...otherLogo)).rejects.toBeInstanceOf(RangeError);
    await expect(ours.render('receipt', () => undefined, null)).rejects.toThrow(/could not be cloned/);
    expect(await ours.render('receipt', plainReceipt, null)).toBeInstanceOf(Uint8Array); // and the next is written
  });

  test.runIf(process.platform === 'linux')('leaves the processor to this thread where there are few', async () => {
    const nicest = async () => {
      const tasks = await readdir('/proc/self/task');
      const stats = await Promise.all(
        tasks.map((task) => readFile(`/proc/self/task/${task}/stat`, 'utf8').catch(() => '')),
      );
      return Math.max(...stats.map((stat) => Number(stat.split(') ')[1]?.split(' ')[16] ?? 0))); // proc(5), field 19
    };
    await ours.render('receipt', plainReceipt, null);
    expect([getPriority(), await nicest()]).toEqual([0, 10]);
  });

  test('leaves this thread free while it is written', async () => {
    const turnsWhile = async (renderer: Renderer) => {
      let isWritten = false;
      let turns = 0;
      const note = () => {
        isWritten = true;
      };
      const written = renderer.render('collectionNotice', { ...notice, pieces: manyPieces(300) }, null);
      written.then(note, note);
      while (!isWritten) {
        await new Promise((resolve) => setImmediate(resolve));
        turns++;
      }
      await written;
      return turns;
    };
    const [there, here] = [await turnsWhile(ours), await turnsWhile(inThisThread)];
    expect(there).toBeGreaterThan(20 * here);
  });
});

describe('a thread that dies', () => {
  test.each([
    ['exits', 'exit 3'],
    ['throws', 'undefined'],
    ['outgrows', 'ERR_WORKER_OUT_OF_MEMORY'],
  ])('(it %s) fails the paper that it was at, and no other', async (how, code) => {
    const asked = askFor(faulty(), 'well', how, 'well', how, how, 'well');
    const died = `unexpected ${code}`;
    expect(await Promise.all(asked)).toEqual(['1 byte', died, '1 byte', died, died, '1 byte']);
  });

  test('and one that hangs, is ended', async () => {
    const asked = askFor(faulty({ hangsAfterMilliseconds: 1000 }), 'hangs', 'well');
    expect((await Promise.all(asked))[0]).toBe('unexpected HANGS');
  });

  test('says what to do', async () => {
    const failed = faulty().render('receipt', 'exits', null);
    await expect(failed).rejects.toThrow(/^This paper was not finished: .* Open the paper again/);
  });

  test('at its start fails each paper, and none waits for ever', async () => {
    const missing = faulty({ thread: support('no-such-thread.mjs') });
    const asked = askFor(missing, 'well', 'well', 'well');
    expect(await Promise.all(asked)).toEqual(Array(3).fill('unexpected MODULE_NOT_FOUND'));
  });
});

test('more papers than may wait are refused at once, and the others are written', async () => {
  const asked = askFor(faulty({ waitingMax: 2 }), ...Array(5).fill('well'));
  const refused = 'papers-busy undefined';
  expect(await Promise.all(asked)).toEqual(['1 byte', '1 byte', '1 byte', refused, refused]);
});

describe('closing', () => {
  test('waits for the papers under way, and takes no more', async () => {
    const renderer = faulty();
    const asked = askFor(renderer, 'well', 'exits', 'well');
    const ended: string[] = [];
    const all = asked.map(async (each) => ended.push(await each));
    const closing = renderer.close();
    const [late] = askFor(renderer, 'well');
    await closing;
    expect(ended).toEqual(['1 byte', 'unexpected exit 3', '1 byte']); // before it was closed
    await Promise.all(all);
    expect(await late).toBe('papers-busy undefined');
  });

  test('is done at once where nothing was written, and twice does no harm', async () => {
    const renderer = faulty();
    await renderer.close();
    await renderer.close();
  });
});
