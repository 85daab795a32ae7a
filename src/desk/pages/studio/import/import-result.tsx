import { count } from '../../../format/formatter';
import type { Checked, Kind } from './import-kinds';

const SHOWN_MAX = 200;

/** The problems of a list by row; where there are none, what would be added. */
export function Told({ checked: { problems, adds }, kind }: { checked: Checked; kind: Kind }) {
  if (problems.length === 0) return <Adds adds={adds} kind={kind} />;
  return (
    <>
      <table class="rows">
        <caption>What isn’t right, row by row; the headings are row 1</caption>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">Column</th>
            <th scope="col">What to do</th>
          </tr>
        </thead>
        <tbody>
          {problems.slice(0, SHOWN_MAX).map(({ row, column, detail }, i) => (
            <tr key={i}>
              <th scope="row">{row}</th>
              <td class="column">{column ?? 'the row'}</td>
              <td class="what">{detail}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <More than={problems.length} what="problem" />
    </>
  );
}

function Adds({ adds, kind }: { adds: Checked['adds']; kind: Kind }) {
  return (
    <>
      <table class="rows">
        <caption>What would be added</caption>
        <thead>
          <tr>
            <th scope="col">Row</th>
            <th scope="col">{{ people: 'Person', materials: 'Material', lots: 'Lot' }[kind]}</th>
          </tr>
        </thead>
        <tbody>
          {adds.slice(0, SHOWN_MAX).map(({ row, what }) => (
            <tr key={row}>
              <th scope="row">{row}</th>
              <td class="what">{what}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <More than={adds.length} what="row" />
    </>
  );
}

const More = ({ than, what }: { than: number; what: string }) =>
  than > SHOWN_MAX ? <p class="quiet">And {count(than - SHOWN_MAX, `${what} more`, `${what}s more`)}.</p> : null;
