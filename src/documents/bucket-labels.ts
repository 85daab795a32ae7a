import { BucketLabelsContent } from './bucket-labels-content.js';
import { SHEETS_FIRST, warnings } from './hazard-words.js';
import { NOT_TESTED } from './mix-words.js';
import { Paper, STYLES, type Style } from './paper.js';
import { dateInWords } from './words.js';

const INSET = 12;
const BETWEEN = 16;
const NAME: Style = { face: 'semibold', size: 22, leading: 27 }; // read across a room

type Said = [tag: string, text: string, style: Style, below: number];

/**
 * Draws the labels of a batch on A4, below each other, to be cut out.
 *
 * @throws ZodError where the content is incomplete, RangeError where a name can't be printed
 */
export async function renderBucketLabels(unchecked: BucketLabelsContent): Promise<Buffer> {
  const content = BucketLabelsContent.parse(unchecked);
  const { number, mixedOn, studio } = content;
  const title = `Labels of batch ${number}`;
  const frame = { title, footer: `Batch ${number}`, studioName: studio.name, lang: content.language, day: mixedOn };
  const paper = new Paper({ format: 'A4', ...frame, content });
  for (let copy = 0; copy < content.copies; copy++) drawLabel(paper, content);
  return paper.finish();
}

function drawLabel(paper: Paper, content: BucketLabelsContent): void {
  const width = paper.width - 2 * INSET;
  const said = linesOf(content);
  const height = said.reduce(
    (sum, [, text, style, below]) => sum + paper.height(text, style, width) + below,
    2 * INSET,
  );
  paper.room(height);
  const top = paper.y;
  paper.artefact('Layout', () => {
    paper.doc.lineWidth(0.8).rect(paper.left, top, paper.width, height).stroke('#000000');
  });
  paper.y = top + INSET;
  paper.within('Sect', () => {
    for (const [tag, text, style, below] of said) {
      paper.say(tag, text, style, { x: paper.left + INSET, width });
      paper.y += below;
    }
  });
  paper.y = top + height + BETWEEN;
}

function linesOf({
  locale,
  name,
  number,
  version,
  mixedOn,
  parts,
  litreGrams,
  firesC,
  hazards,
  studio,
}: BucketLabelsContent): Said[] {
  const count = (n: number) => new Intl.NumberFormat(locale).format(n);
  const of = parts.map((part) => `${part.name} ${count(part.grams)}\u00a0g`).join(', ');
  const facts = [
    litreGrams === null ? [] : [`Litre weight ${count(litreGrams)}\u00a0g.`],
    firesC === null ? [] : [`Fire to ${firesC}.`],
  ].flat();
  const warned = [...warnings(hazards, locale), SHEETS_FIRST, NOT_TESTED];
  return [
    ['H1', name, NAME, 4],
    ['P', `Batch ${number}, mixed on ${dateInWords(mixedOn, locale)} to recipe version ${version}`, STYLES.strong, 2],
    ['P', of, STYLES.body, 2],
    ...(facts.length === 0 ? [] : [['P', facts.join(' '), STYLES.body, 2] as Said]),
    ...warned.map((text): Said => ['P', text, STYLES.small, 1]),
    ['P', studio.name, STYLES.smallStrong, 0],
  ];
}
