import type { Material as Row } from '../../database/generated/client.js';
import { fromDate } from '../../database/values.js';
import type { StatementAsks } from '../../trade/materials/manufacturer-statement.js';
import type { Material } from './contract.js';

type Statement = NonNullable<Material['manufacturerStatement']>;

/** What a manufacturer says of a material on food, as its row keeps it. */
export function statementOf(
  row: Pick<Row, 'manufacturerStatement' | 'manufacturerStatementOn' | StatementColumn>,
): Statement | null {
  const { manufacturerStatement: quote, manufacturerStatementOn: on } = row;
  return quote === null || on === null ? null : { quote, statedOn: fromDate(on), asks: asksOf(row) };
}

type StatementColumn = keyof ReturnType<typeof toStoredAsks>;

function asksOf(row: Pick<Row, StatementColumn>): StatementAsks | null {
  const { statementCoatsFrom: least, statementCoatsTo: most, statementFromC: fromC, statementToC: toC } = row;
  if (!row.statementCompares) return null;
  return {
    coats: least === null || most === null ? null : { least, most },
    way: row.statementWay,
    firing: fromC === null || toC === null ? null : { fromC, toC },
  };
}

/** What it asks for, as a row keeps it. */
export function toStoredAsks(asks: StatementAsks | null) {
  return {
    statementCompares: asks !== null,
    statementCoatsFrom: asks?.coats?.least ?? null,
    statementCoatsTo: asks?.coats?.most ?? null,
    statementWay: asks?.way ?? null,
    statementFromC: asks?.firing?.fromC ?? null,
    statementToC: asks?.firing?.toC ?? null,
  };
}
