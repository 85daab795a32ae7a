import { useRef, useState } from 'preact/hooks';

/**
 * Copies what a read-only field shows; where the browser doesn't allow it, the text is marked in the field.
 *
 * @param what what it is, at the beginning of a sentence: "The link"
 * @returns the field's `control`, what to do when the button is pressed, and what to say then
 */
export function useCopy(text: string, what: string) {
  const control = useRef<HTMLInputElement>(null);
  const [said, setSaid] = useState('');
  const copy = async () => {
    control.current?.select();
    const done = await navigator.clipboard?.writeText(text).then(
      () => true,
      () => false,
    );
    setSaid(done ? 'Copied.' : `${what} is marked: copy it with your keyboard.`);
  };
  return { control, copy, said };
}
