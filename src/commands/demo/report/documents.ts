import { section, table } from './text.js';

const KIND = {
  receipt: 'receipt',
  creditNote: 'credit note',
  collectionNotice: 'collection notice',
  voucher: 'voucher',
  order: 'order',
};

export type WrittenPaper = { fileName: string; kind: keyof typeof KIND; about: string };

export function papersSection(papers: readonly WrittenPaper[], mails: number, folder: string): string {
  const answer = `${papers.length} papers are in ${folder}, with ${mails} emails (.eml) that have the papers attached.`;
  return section(
    'What was issued and sent?',
    answer,
    table(
      [{ head: 'file' }, { head: 'what' }, { head: 'for' }],
      papers.map(({ fileName, kind, about }) => [fileName, KIND[kind], about]),
    ),
  );
}
