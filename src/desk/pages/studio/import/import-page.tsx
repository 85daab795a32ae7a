import './import.css';
import { useState } from 'preact/hooks';
import { signInFirst } from '../../../api/client';
import { useIdempotencyKey } from '../../../api/idempotency-key';
import { ChoiceField } from '../../../forms/choice-field';
import { ErrorMessage } from '../../../forms/error-message';
import { FileField } from '../../../forms/file-field';
import { Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';
import { Headings } from './column-help';
import {
  CALLED,
  type Checked,
  type Choice,
  checkList,
  counted,
  importList,
  type Kind,
  readKinds,
} from './import-kinds';
import { Told } from './import-result';

/** What is in your lists already? */
export function ImportPage() {
  return (
    <Page question="Import a list" tabs={(me) => <StudioTabs me={me} />} read={readKinds}>
      {(choices) => (
        <>
          {choices.length > 0 ? (
            <Bring choices={choices} />
          ) : (
            <p class="answer">You don’t have permission to import. Ask the owner of the studio.</p>
          )}
        </>
      )}
    </Page>
  );
}

type State = { file?: File; checked?: Checked; error?: string; added?: number };

function Bring({ choices }: { choices: Choice[] }) {
  const [chosen, setChosen] = useState(choices[0] as Choice);
  const [state, setState] = useState<State>({});
  const [busy, setBusy] = useState(false);
  const key = useIdempotencyKey();
  const { kind } = chosen;
  /** Whatever is refused leaves the file as it was chosen, and says why. */
  const trying = async (file: File, work: () => Promise<State>) => {
    if (busy) return;
    setBusy(true);
    try {
      setState(await work());
    } catch (error) {
      if (!signInFirst(error)) setState({ file, error: (error as Error).message });
    }
    setBusy(false);
  };
  const look = (file: File) => trying(file, async () => ({ file, checked: await checkList(kind, file) }));
  const bring = (file: File) =>
    trying(file, async () => {
      const added = await importList(kind, file, key.headersFor([kind, file.name, file.size, file.lastModified]));
      key.answered();
      return { added };
    });
  return (
    <>
      <p class="answer" role="status">
        {answer(kind, state, busy)}
      </p>
      <form class="list no-paper" onSubmit={(event) => event.preventDefault()}>
        <ChoiceField
          legend="What is in the list?"
          choices={choices.map(({ kind }) => [kind, CALLED[kind]] as const)}
          value={kind}
          onChange={(next) => {
            setChosen(choices.find((choice) => choice.kind === next) ?? chosen);
            setState({});
          }}
          stacked
        />
        <FileField
          key={`${kind} ${state.added}`}
          label="The list, as CSV in UTF-8"
          accept=".csv,text/csv"
          onPick={look}
        />
      </form>
      {state.error && <ErrorMessage>{state.error}</ErrorMessage>}
      {state.checked && <Told checked={state.checked} kind={kind} />}
      {state.file && state.checked && state.checked.problems.length === 0 && (
        <button type="button" aria-disabled={busy} onClick={() => state.file && bring(state.file)}>
          Import {counted(state.checked.adds.length, kind)}
        </button>
      )}
      <Headings choice={chosen} />
    </>
  );
}

function answer(kind: Kind, { checked, added, error }: State, busy: boolean) {
  if (busy) return 'Reading the list.';
  if (error) return 'Nothing was changed.';
  if (added !== undefined) return `${upper(counted(added, kind))} came in. Choose another list, or you are done.`;
  if (!checked) return 'Choose it here, and see what it would add before anything is changed.';
  const wrong = new Set(checked.problems.map(({ row }) => row)).size;
  if (wrong === 0)
    return (
      <>
        The list would add <b>{counted(checked.adds.length, kind)}</b>. Nothing is changed yet.
      </>
    );
  return (
    <>
      <b class="iron">{wrong === 1 ? 'One row isn’t right.' : `${wrong} rows aren’t right.`}</b> Nothing was changed:
      correct it in the original file, save it and choose it again.
    </>
  );
}

const upper = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
