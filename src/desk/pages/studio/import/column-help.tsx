import type { Choice } from './import-kinds';

/** How a list must look: its headings, what each means, and an empty one to fill in. */
export function Headings({ choice: { kind, columns, rowsMax } }: { choice: Choice }) {
  const needed = columns.filter((column) => column.needed).map(({ heading }) => heading);
  return (
    <details class="no-paper">
      <summary>
        <b>How the list must look</b>
      </summary>
      <p>
        The first row holds the headings, in any order; {needed.join(', ')} must be there. A comma, a semicolon or a tab
        is between cells. Numbers have one comma or point before their decimals and none between thousands; days are
        written year-month-day. At most {rowsMax} rows go at once.
      </p>
      <p>
        <a href={`/api/imports/${kind}.csv`} download class="touch">
          Download a blank list
        </a>
      </p>
      <table class="rows">
        <caption>The headings</caption>
        <thead>
          <tr>
            <th scope="col">Heading</th>
            <th scope="col">What it means</th>
            <th scope="col">For example</th>
          </tr>
        </thead>
        <tbody>
          {columns.map(({ heading, means, needed, example }) => (
            <tr key={heading}>
              <th scope="row">
                {heading}
                {needed && <small> needed</small>}
              </th>
              <td class="what">{means}</td>
              <td class="quiet">{example}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
