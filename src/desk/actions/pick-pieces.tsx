import { CheckboxField } from '../forms/checkbox-field';

export type PickedPiece = { id: string; code: string; description: string; makerName: string };

type Props<P> = {
  legend: string;
  pieces: readonly P[];
  picked: ReadonlySet<string>;
  onPick(picked: ReadonlySet<string>): void;
  /** of several makers, each piece says whose it is */
  named?: boolean;
};

/** Which pieces: each by its code, what it is and, among several, whose. */
export function PickPieces<P extends PickedPiece>({ legend, pieces, picked, onPick, named = false }: Props<P>) {
  const all = pieces.every(({ id }) => picked.has(id));
  const turn = (id: string) => {
    const next = new Set(picked);
    if (!next.delete(id)) next.add(id);
    onPick(next);
  };
  return (
    <fieldset>
      <legend>{legend}</legend>
      {pieces.length > 1 && (
        <CheckboxField checked={all} onChange={() => onPick(new Set(all ? [] : pieces.map(({ id }) => id)))}>
          All {pieces.length}
        </CheckboxField>
      )}
      {pieces.map(({ id, code, description, makerName }) => (
        <CheckboxField key={id} checked={picked.has(id)} onChange={() => turn(id)}>
          <b>{code}</b> {description}
          {named && <small> {makerName}</small>}
        </CheckboxField>
      ))}
    </fieldset>
  );
}
