type Props = {
  label: string;
  /** What the label is about, for those who only hear it. */
  heard?: string;
  accept: string;
  /** One is on its way; another waits until it has arrived. */
  busy: boolean;
  onPick(file: File): Promise<void>;
};

/** Takes one picture from the disk, or on a phone from the album or the camera. The same one can be taken again. */
export function PictureInput({ label, heard, accept, busy, onPick }: Props) {
  const pick = async (input: HTMLInputElement) => {
    const [file] = input.files ?? [];
    if (!file) return;
    await onPick(file);
    input.value = '';
  };
  return (
    <label class="pick-picture no-paper">
      <span>{busy ? 'Sending' : label}</span>
      {heard && <span class="heard">{heard}</span>}
      <input
        class="heard"
        type="file"
        {...{ accept, disabled: busy }}
        onChange={({ currentTarget }) => pick(currentTarget)}
      />
    </label>
  );
}
