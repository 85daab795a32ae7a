import fc from 'fast-check';
import { simpleParser } from 'mailparser';
import { describe, expect, test } from 'vitest';
import { composeMail, type MailMessage, mailboxFrom } from '../../src/mail/message.js';
import { message } from './sample.js';

const compose = async (change: Partial<MailMessage> = {}) => (await composeMail({ ...message, ...change })).bytes;
/** The header lines that a mail server sees: those before the first empty line, unfolded. */
const headers = (bytes: Buffer) =>
  (bytes.toString('latin1').split('\r\n\r\n')[0] ?? '').replaceAll(/\r\n[ \t]/g, ' ').split('\r\n');

describe('a composed message', () => {
  test('reads back as it was written', async () => {
    const mail = await simpleParser(await compose());
    expect(mail).toMatchObject({
      messageId: message.messageId,
      date: message.date,
      subject: message.subject,
      from: { value: [message.from] },
      to: { value: [message.to] },
      replyTo: { value: [message.replyTo] },
      text: message.text,
      html: false,
    });
    expect(mail.attachments).toHaveLength(1);
    expect(mail.attachments[0]).toMatchObject({ filename: 'ready-4k7.pdf', contentType: 'application/pdf' });
    expect(new Uint8Array(mail.attachments[0]?.content ?? [])).toEqual(message.attachments[0]?.content);
    expect(mail.headers.get('auto-submitted')).toBe('auto-generated');
  });
  test('is text alone where nothing is attached', async () => {
    const mail = await simpleParser(await compose({ attachments: [] }));
    expect(mail.headers.get('content-type')).toMatchObject({ value: 'text/plain', params: { charset: 'utf-8' } });
  });
  test('has the same bytes twice, no line above 998 octets, and no bare line end (RFC 5322, 2.1.1 and 2.3)', async () => {
    const bytes = await compose({ text: `${'word '.repeat(600)}\nÜ\n` });
    expect(bytes.equals(await compose({ text: `${'word '.repeat(600)}\nÜ\n` }))).toBe(true);
    const text = bytes.toString('latin1');
    expect(Math.max(...text.split('\r\n').map((line) => line.length))).toBeLessThanOrEqual(998);
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });
  test('keeps the envelope beside it', async () => {
    expect(await composeMail(message)).toMatchObject({ from: message.from.address, to: message.to.address });
  });
});

describe('nobody adds headers by a name', () => {
  const BAD = 'Ines\r\nBcc: everyone@ostlemere.example';
  test.each<[string, Partial<MailMessage>]>([
    ['subject', { subject: BAD }],
    ['name', { to: { ...message.to, name: BAD } }],
    ['bare line feed', { subject: 'Ines\nBcc: everyone@ostlemere.example' }],
    ['bare carriage return', { from: { ...message.from, name: 'Ines\rBcc: x@ostlemere.example' } }],
    ['null', { subject: 'Ines\0' }],
    ['a subject of blanks', { subject: '  ' }],
    ['address', { to: { ...message.to, address: 'ines@ostlemere.example\r\nBcc: everyone@ostlemere.example' } }],
    ['two addresses', { to: { ...message.to, address: 'ines@ostlemere.example, all@ostlemere.example' } }],
    ['reply address', { replyTo: { name: '', address: 'nobody' } }],
    ['message id', { messageId: '<a@b>\r\nBcc: x@ostlemere.example' }],
    ['message id without brackets', { messageId: 'a@b' }],
    [
      'file name',
      { attachments: [{ fileName: 'a.pdf"\r\nX: y', contentType: 'application/pdf', content: new Uint8Array() }] },
    ],
    [
      'file path',
      { attachments: [{ fileName: '../a.pdf', contentType: 'application/pdf', content: new Uint8Array() }] },
    ],
    [
      'media type',
      { attachments: [{ fileName: 'a.pdf', contentType: 'application/pdf\r\nX: y', content: new Uint8Array() }] },
    ],
    ['no date', { date: new Date(Number.NaN) }],
    ['an empty letter', { text: '' }],
  ])('%s', async (_, change) => {
    await expect(compose(change)).rejects.toThrow(/This message can't be sent: .+/);
  });
  test('whatever a name holds, the headers are the same ones', async () => {
    const expected = headers(await compose()).map((line) => line.split(':')[0]);
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: 'binary', maxLength: 80 }),
        fc.string({ maxLength: 80 }),
        async (name, subject) => {
          const bytes = await compose({ to: { ...message.to, name }, subject }).catch((error) => error);
          if (bytes instanceof RangeError) return;
          expect(headers(bytes).map((line) => line.split(':')[0])).toEqual(expected);
          const mail = await simpleParser(bytes);
          expect(mail.to).toMatchObject({ value: [{ address: message.to.address }] });
        },
      ),
    );
  });
});

describe('the address that the owner sets', () => {
  test('with a name or without', () => {
    expect(mailboxFrom('Alder Lane Pottery <bench@alderlane.example>')).toEqual(message.from);
    expect(mailboxFrom('bench@alderlane.example')).toEqual({ name: '', address: 'bench@alderlane.example' });
  });
  test.each([
    '',
    'Alder Lane',
    'a@ostlemere.example, b@ostlemere.example',
    'x@',
    'Bench: a@ostlemere.example, b@ostlemere.example;',
  ])('is refused as "%s"', (text) => expect(() => mailboxFrom(text)).toThrow('is not one address'));
});
