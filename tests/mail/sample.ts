import type { MailMessage } from '../../src/mail/message.js';

export const message: MailMessage = {
  messageId: '<0199-4k7@alderlane.example>',
  date: new Date('2026-03-12T18:30:00Z'),
  from: { name: 'Alder Lane Pottery', address: 'bench@alderlane.example' },
  to: { name: 'Żółć Ελένη Наташа', address: 'natasha@ostlemere.example' },
  replyTo: { name: '', address: 'owner@alderlane.example' },
  subject: 'Your work is ready: Żółć, Ελένη',
  text: 'Hello Ελένη,\n\nyour work is ready. It costs £12.50.\n.\nFrom here on: dots.\n',
  attachments: [
    {
      fileName: 'ready-4k7.pdf',
      contentType: 'application/pdf',
      content: new Uint8Array([37, 80, 68, 70, 0, 13, 10, 255]),
    },
  ],
};
