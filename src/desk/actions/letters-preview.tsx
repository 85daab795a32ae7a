import type { Schemas } from '../api/client';

export type Letter = Schemas['PreviewedLetter'];

/** Every letter that goes out, each opened by its recipient; a single one is open. */
export function LettersPreview({ letters }: { letters: readonly Letter[] }) {
  if (letters.length === 0) return null;
  return (
    <section aria-label="Letters that go out">
      {letters.map((letter, i) => (
        <details key={i} open={letters.length === 1}>
          <summary>
            {letter.email ? `Email to ${letter.personName}` : `Letter for ${letter.personName}`}
            {letter.email ? <small> {letter.email}</small> : <small class="amber"> no email address: print it</small>}
          </summary>
          <p>
            <b>{letter.subject}</b>
          </p>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long letter is scrolled by the keyboard too */}
          <section class="letter-preview" tabIndex={0} aria-label={`Letter to ${letter.personName}: ${letter.subject}`}>
            {letter.text}
          </section>
          {letter.fileName && <p class="quiet">With {letter.fileName}</p>}
        </details>
      ))}
    </section>
  );
}
