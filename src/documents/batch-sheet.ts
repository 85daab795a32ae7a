import { numberFormat } from '../trade/text/formatters.js';
import { BatchSheetContent } from './batch-sheet-content.js';
import { drawPaper } from './draw-paper.js';
import { warnings } from './hazard-words.js';
import { answer, drawList, type Fact, facts, heading, letterhead, listHeight } from './head.js';
import { MIX_CAUTIONS } from './mix-words.js';
import type { Paper } from './paper.js';
import { STYLES } from './style.js';
import { drawTable, figures, type TableRow } from './table.js';
import { countOf, dateInWords } from './words.js';

/**
 * Draws the sheet by which a batch is weighed out: it lies beside the scale and is ticked by hand.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderBatchSheet(unchecked: BatchSheetContent, logo: Uint8Array | null = null): Promise<Buffer> {
  const content = BatchSheetContent.parse(unchecked);
  const { version, printedOn } = content;
  const footer = `Batch sheet, recipe version ${version}`;
  const frame = { title: footer, footer, day: printedOn, content, logo };
  return drawPaper({ sheet: 'whole', ...frame }, (paper) => drawSheet(paper, content));
}

function drawSheet(paper: Paper, content: BatchSheetContent): void {
  const { studio, locale, name, version, printedOn, makeGrams, weights, parts, makes, note, hazards } = content;
  const number = (n: number) => numberFormat(locale).format(n);

  letterhead(paper, studio);
  const of = weights === 'dry' ? 'Dry weight' : 'Materials as used (wet)';
  const meaning = `${of}, ${countOf(parts.length, 'material')}; makes about ${makes}. Version ${version}, printed on ${dateInWords(printedOn, locale)}.`;
  answer(paper, `Batch sheet: ${name}`, `${number(makeGrams)} g`, meaning);
  // read before the first bag is opened, so they come before what is weighed
  const all = [...MIX_CAUTIONS, ...warnings(hazards, locale)];
  heading(paper, 'Before you open a bag', listHeight(paper, all.slice(0, 1)));
  drawList(paper, all);
  heading(paper, 'Weigh out', 60);
  drawParts(paper, content, number);
  paper.space(14);
  facts(paper, waterFacts(content, number));
  facts(paper, [
    [{ label: 'Mixed by', lines: [' '] }],
    [{ label: 'On', lines: [' '] }],
    [{ label: 'Litre weight (actual)', lines: [' '] }],
  ]);
  if (note !== null) {
    heading(paper, 'Notes', paper.height(note, STYLES.body));
    paper.say('P', note, STYLES.body);
  }
}

type Number = (n: number) => string;

/** What to weigh; in ml beside it where the shelf keeps any of it by the ml. */
function drawParts(paper: Paper, { parts, inPercent }: BatchSheetContent, number: Number): void {
  const inMl = parts.some(({ ml }) => ml !== null);
  const only = <T>(there: boolean, ...cells: T[]) => (there ? cells : []);
  const rows = parts.map((part): TableRow => {
    const share = inPercent ? `${part.share}%` : part.share;
    const weight = { text: `${number(part.weighGrams)}\u00a0g`, strong: true as const };
    const ml = part.ml === null ? '' : `${number(part.ml)}\u00a0ml`;
    return { cells: [part.name, share, weight, ...only(inMl, ml), '', { box: true }] };
  });
  const weighed = parts.reduce((sum, { weighGrams }) => sum + weighGrams, 0);
  const total: TableRow = { cells: ['Total', '', `${number(weighed)}\u00a0g`, ...only(inMl, ''), '', ''], sum: true };
  const heads = [{ head: 'Material' }, figures('Share'), figures('Weigh out'), ...only(inMl, figures('That is'))];
  drawTable(paper, [...heads, { head: 'Weighed' }, figures('Done')], [...rows, total]);
}

function waterFacts(content: BatchSheetContent, number: Number): Fact[][] {
  const { addWaterMl, tooWetMl, litreGrams, solidsDensity, isDensityAssumed } = content;
  const water =
    tooWetMl > 0
      ? { label: 'Siphon off once it has settled', lines: [`${number(tooWetMl)} ml of clear water`] }
      : { label: 'Water, before the powder', lines: [addWaterMl === 0 ? 'none' : `${number(addWaterMl)} ml`] };
  const litre = { label: 'Litre weight (target)', lines: [litreGrams === null ? '–' : `${number(litreGrams)} g`] };
  const density = {
    label: 'Density of dry materials',
    lines: [`${solidsDensity}, ${isDensityAssumed ? 'assumed' : 'measured'}`],
  };
  return [[water], [litre], [density]];
}
