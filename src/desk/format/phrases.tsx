import { Fragment } from 'preact';

/** Part of a sentence: plain words, or words that lead to the place on the page where they come from. */
export type Phrase = string | { text: string; to: string; tone?: 'iron' | 'amber' | undefined };

/** Phrases side by side in one sentence. */
export function Phrases({ of }: { of: readonly Phrase[] }) {
  return (
    <>
      {of.map((phrase, i) => (
        <Fragment key={i}>
          {typeof phrase === 'string' ? (
            phrase
          ) : (
            <a href={phrase.to} class={phrase.tone}>
              {phrase.text}
            </a>
          )}
        </Fragment>
      ))}
    </>
  );
}

/** Clauses joined to one: "a", "a and b", "a, b and c". */
export function joined(clauses: readonly (readonly Phrase[])[]): Phrase[] {
  return clauses.flatMap((clause, i) => {
    if (i === 0) return [...clause];
    return [i === clauses.length - 1 ? ' and ' : ', ', ...clause];
  });
}

/** With a capital at its head and a full stop at its end. */
export function sentence(phrases: readonly Phrase[]): Phrase[] {
  const [head, ...rest] = phrases;
  if (head === undefined) return [];
  const raised = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
  return [typeof head === 'string' ? raised(head) : { ...head, text: raised(head.text) }, ...rest, '. '];
}
