import { numberFormat } from '../trade/text/formatters.js';
import { BucketLabelsContent } from './bucket-labels-content.js';
import { SHEETS_FIRST, warnings } from './hazard-words.js';
import { NOT_TESTED } from './mix-words.js';
import { Paper } from './paper.js';
import { STYLES, type Style } from './style.js';
import { dateInWords } from './words.js';

const INSET = 12;
const BETWEEN = 16;
const BESIDE_LOGO = 2; // name and batch: together at least as high as the logo
const NAME: Style = { face: 'semibold', size: 22, leading: 27 }; // read across a room

type Said = [tag: string, text: string, style: Style, below: number];

/**
 * Draws the labels of a batch, below each other, to be cut out.
 *
 * @throws ZodError where the content is incomplete, RangeError where a name can't be printed
 */
export async function renderBucketLabels(
  unchecked: BucketLabelsContent,
  logo: Uint8Array | null = null,
): Promise<Buffer> {
  const content = BucketLabelsContent.parse(unchecked);
  const { number, mixedOn } = content;
  const title = `Labels of batch ${number}`;
  const frame = { title, footer: `Batch ${number}`, day: mixedOn, content, logo };
  // small beside the name, which is read across a room, and the warnings
  const paper = new Paper({ sheet: 'whole', logoBox: 'half', ...frame });
  for (let copy = 0; copy < content.copies; copy++) drawLabel(paper, content);
  return paper.finish();
}

function drawLabel(paper: Paper, content: BucketLabelsContent): void {
  const width = paper.width - 2 * INSET;
  const besideLogo = paper.logo === null ? width : width - paper.logo.width - INSET;
  const said = linesOf(content).map((line, i) => ({ line, width: i < BESIDE_LOGO ? besideLogo : width }));
  const height = said.reduce(
    (sum, { line: [, text, style, below], width }) => sum + paper.height(text, style, width) + below,
    2 * INSET,
  );
  paper.room(height);
  const top = paper.y;
  paper.artefact('Layout', () => {
    paper.doc.lineWidth(0.8).rect(paper.left, top, paper.width, height).stroke('#000000');
  });
  paper.y = top + INSET;
  paper.within('Sect', () => {
    if (paper.logo !== null) paper.putLogo(paper.right - INSET - paper.logo.width);
    for (const {
      line: [tag, text, style, below],
      width,
    } of said) {
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
  const count = (n: number) => numberFormat(locale).format(n);
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
