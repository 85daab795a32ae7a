import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import fc from 'fast-check';
import { simpleParser } from 'mailparser';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { fileNameOf, outboxFolder } from '../../src/mail/outbox-folder.js';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'wareboard-outbox-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const mail = (messageId: string, text = 'Hello') => ({
  messageId,
  from: 'bench@alderlane.example',
  to: 'ines@ostlemere.example',
  bytes: Buffer.from(`Message-ID: ${messageId}\r\nSubject: Ready\r\n\r\n${text}\r\n`),
});

test('a message lies in the folder as an .eml file that only the studio can read', async () => {
  const outbox = join(folder, 'data', 'outbox');
  const { where } = await outboxFolder(outbox).send(mail('<4k7@wareboard>'));
  expect(where).toBe(join(outbox, '4k7@wareboard.eml'));
  expect(await simpleParser(await readFile(where))).toMatchObject({ messageId: '<4k7@wareboard>', subject: 'Ready' });
  if (process.platform !== 'win32') expect((await stat(where)).mode & 0o077).toBe(0);
});

test('sent twice, or twenty times at once, it is one file', async () => {
  const transport = outboxFolder(folder);
  await Promise.all(Array.from({ length: 20 }, () => transport.send(mail('<4k7@wareboard>'))));
  await transport.send(mail('<4k7@wareboard>', 'Hello again'));
  expect(await readdir(folder)).toEqual(['4k7@wareboard.eml']);
  expect(await readFile(join(folder, '4k7@wareboard.eml'), 'utf8')).toContain('Hello again');
});

test('no id leads out of the folder or is hidden in it, and two ids never share a file', () => {
  expect(fileNameOf('<../../etc/passwd@x>')).toBe('%002e.%002f..%002fetc%002fpasswd@x.eml');
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), fc.string({ unit: 'binary' }), (a, b) => {
      const [fileA, fileB] = [fileNameOf(`<${a}@x>`), fileNameOf(`<${b}@x>`)];
      expect(dirname(join('/outbox', fileA))).toBe('/outbox');
      expect(fileA.startsWith('.')).toBe(false);
      expect(fileA === fileB).toBe(a === b);
    }),
  );
});

test('a folder that can not be written says so, and leaves nothing behind', async () => {
  const inTheWay = join(folder, 'outbox');
  await writeFile(inTheWay, 'a file where the folder should be');
  await expect(outboxFolder(inTheWay).send(mail('<a@b>'))).rejects.toMatchObject({
    name: 'MailNotSent',
    lasting: false,
    message: expect.stringContaining('could not be written'),
  });
  const occupied = join(folder, 'other');
  await mkdir(join(occupied, 'a@b.eml'), { recursive: true }); // a folder bears the name of the file
  await expect(outboxFolder(occupied).send(mail('<a@b>'))).rejects.toThrow('could not be written');
  expect(await readdir(occupied)).toEqual(['a@b.eml']);
});
