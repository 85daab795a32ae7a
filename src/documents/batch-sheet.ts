import { BatchSheetContent } from './batch-sheet-content.js';
import { answer, type Fact, facts, heading, letterhead, list, listHeight } from './head.js';
import { CAUTIONS, warnings } from './mix-words.js';
import { Paper, STYLES } from './paper.js';
import { drawTable, figures, type Row } from './table.js';
import { countOf, dateInWords } from './words.js';

/**
 * Draws the sheet by which a batch is weighed out, on A4: it lies beside the scale and is ticked by hand.
 *
 * @throws ZodError where the content contradicts itself, RangeError where a name can't be printed
 */
export async function renderBatchSheet(unchecked: BatchSheetContent): Promise<Buffer> {
  const content = BatchSheetContent.parse(unchecked);
  const { studio, locale, name, version, printedOn, makeGrams, weights, parts, makes, note, hazards } = content;
  const title = `To mix: ${name}`;
  const footer = `To mix, by recipe version ${version}`;
  const frame = { title, footer, studioName: studio.name, lang: content.language, day: printedOn };
  const paper = new Paper({ format: 'A4', ...frame, content });
  const number = (n: number) => new Intl.NumberFormat(locale).format(n);

  letterhead(paper, studio);
  const of = weights === 'dry' ? 'dry matter' : 'the parts as they stand';
  const meaning = `of ${of}, from ${countOf(parts.length, 'part')}; it makes about ${makes}. Version ${version}, printed on ${dateInWords(printedOn, locale)}.`;
  answer(paper, title, `${number(makeGrams)} g`, meaning);
  drawTable(
    paper,
    [
      { head: 'Part' },
      figures('Share'),
      figures('Weigh out'),
      figures('That is'),
      { head: 'Weighed' },
      figures('Done'),
    ],
    [...parts.map((part) => lineOf(part, content.inPercent, number)), sumOf(content, number)],
  );
  paper.space(14);
  facts(paper, waterFacts(content, number));
  facts(paper, [
    [{ label: 'Mixed by', lines: [' '] }],
    [{ label: 'On', lines: [' '] }],
    [{ label: 'A litre weighed', lines: [' '] }],
  ]);
  if (note !== null) {
    heading(paper, 'To remember', paper.height(note, STYLES.body));
    paper.say('P', note, STYLES.body);
  }
  const all = [...CAUTIONS, ...warnings(hazards, locale)];
  heading(paper, 'Before you open a bag', listHeight(paper, all.slice(0, 1)));
  list(paper, all);
  return paper.finish();
}

type Number = (n: number) => string;

function lineOf(part: BatchSheetContent['parts'][number], inPercent: boolean, number: Number): Row {
  const share = inPercent ? `${part.share}\u00a0%` : part.share;
  const ml = part.ml === null ? '' : `${number(part.ml)}\u00a0ml`;
  return {
    cells: [part.name, share, { text: `${number(part.weighGrams)}\u00a0g`, strong: true }, ml, '', { box: true }],
  };
}

function sumOf({ parts }: BatchSheetContent, number: Number): Row {
  const weighed = parts.reduce((sum, { weighGrams }) => sum + weighGrams, 0);
  return { cells: ['On the scale', '', `${number(weighed)}\u00a0g`, '', '', ''], sum: true };
}

function waterFacts(content: BatchSheetContent, number: Number): Fact[][] {
  const { addWaterMl, tooWetMl, litreGrams, solidsDensity, isDensityAssumed } = content;
  const water =
    tooWetMl > 0
      ? { label: 'Take off once it has settled', lines: [`${number(tooWetMl)} ml of clear water`] }
      : { label: 'Water to add', lines: [addWaterMl === 0 ? 'none' : `${number(addWaterMl)} ml`] };
  const litre = { label: 'A litre of it shall weigh', lines: [litreGrams === null ? '–' : `${number(litreGrams)} g`] };
  const density = {
    label: 'Reckoned with dry matter of density',
    lines: [`${solidsDensity}, ${isDensityAssumed ? 'assumed' : 'as measured'}`],
  };
  return [[water], [litre], [density]];
}
