import { useCallback, useState } from 'preact/hooks';
import { api } from '../api/client';
import { useQuery } from '../api/query';
import { useMutation } from '../api/use-mutation';
import { count } from '../format/formatter';
import { ErrorMessage } from '../forms/error-message';
import { Field } from '../forms/field';
import { limitOf } from '../forms/limits';
import { DialogButton } from '../ui/dialog';
import { LookedUp } from '../ui/looked-up';
import { toast } from '../ui/toast';
import { type ListedPiece, listPiecesAt, type Stage } from './list-pieces';
import { PickPieces } from './pick-pieces';

/** What can be noted of ware by hand at each stage; what only a firing makes is noted when its kiln is unloaded. */
const NEXT: Partial<Record<Stage, readonly (readonly [Stage, string])[]>> = {
  greenware: [
    ['dry', 'Bone dry'],
    ['reclaimed', 'Back into the clay'],
    ['broken', 'Broken'],
  ],
  dry: [
    ['reclaimed', 'Back into the clay'],
    ['broken', 'Broken'],
  ],
  bisque: [
    ['glazed', 'Glazed'],
    ['broken', 'Broken'],
  ],
  glazed: [['broken', 'Broken']],
  fired: [
    ['ready', 'Ready to collect'],
    ['broken', 'Broken'],
  ],
  ready: [
    ['collected', 'Collected'],
    ['broken', 'Broken'],
  ],
};
/** As many as the API takes at once. */
const NOTED_MAX = limitOf('PieceStageInput', '#/pieceIds').maxItems ?? Infinity;

type Props = { stage: Stage; called: string };

/** Notes what became of ware on a board, of all of it or of some. */
export function NoteWare({ stage, called }: Props) {
  return (
    <DialogButton label="Note ware" about={`of ${called}`} title={`Note: ${called}`}>
      {(close) => <Noting stage={stage} onClose={close} />}
    </DialogButton>
  );
}

function Noting({ stage, onClose }: { stage: Stage; onClose(): void }) {
  const read = useCallback(() => listPiecesAt(stage), [stage]);
  const query = useQuery({ key: ['pieces at', stage], read, fresh: true });
  return (
    <LookedUp what="what is there" query={query}>
      {(pieces) =>
        pieces.length === 0 ? (
          <p>Nothing is there any more.</p>
        ) : (
          <Pieces
            pieces={pieces.slice(0, NOTED_MAX)}
            more={Math.max(0, pieces.length - NOTED_MAX)}
            {...{ stage, onClose }}
          />
        )
      }
    </LookedUp>
  );
}

type PiecesProps = { pieces: readonly ListedPiece[]; more: number; stage: Stage; onClose(): void };

function Pieces({ pieces, more, stage, onClose }: PiecesProps) {
  const choices = NEXT[stage] ?? [];
  const [picked, setPicked] = useState<ReadonlySet<string>>(new Set());
  const [next, setNext] = useState<Stage>(choices[0]?.[0] ?? 'broken');
  const [note, setNote] = useState('');
  const mutation = useMutation();
  const pieceIds = [...picked];
  const called = (choices.find(([value]) => value === next)?.[1] ?? next).toLowerCase();
  const save = async () => {
    if (pieceIds.length === 0) return mutation.refuse('Choose the pieces that you mean.');
    const body = { pieceIds, stage: next, note: note.trim() };
    if (!(await mutation.run(body, (headers) => api.POST('/api/pieces/stage', { body, headers })))) return;
    onClose();
    toast(
      <span>
        {count(pieceIds.length, 'piece')} noted: {called}.
      </span>,
    );
  };
  return (
    <>
      <div class="pairs">
        <Field<Stage> label="What they are now" choices={choices} value={next} onChange={setNext} />
        <Field
          label="Note"
          hint="If there is something to say"
          value={note}
          onChange={setNote}
          maxLength={limitOf('PieceStageInput', '#/note').maxLength}
        />
      </div>
      <PickPieces legend="Which pieces" named {...{ pieces, picked }} onPick={setPicked} />
      {more > 0 && <p class="quiet">{more} more are there; note these first.</p>}
      {mutation.error && <ErrorMessage>{mutation.error}</ErrorMessage>}
      <p class="acts">
        <button type="button" aria-disabled={mutation.busy} onClick={save}>
          Note {pieceIds.length === 1 ? '1 piece' : `${pieceIds.length} pieces`} as {called}
        </button>
        <button type="button" class="quiet" onClick={onClose}>
          Cancel
        </button>
      </p>
    </>
  );
}
