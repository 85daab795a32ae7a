import { useId } from 'preact/hooks';

type Props = { label: string; accept: string; onPick(file: File): void };

/** Takes one file from the disk. */
export function FileField({ label, accept, onPick }: Props) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        {...{ id, accept }}
        type="file"
        onChange={({ currentTarget: { files } }) => files?.[0] && onPick(files[0])}
      />
    </div>
  );
}
