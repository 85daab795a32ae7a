import type { ComponentChildren } from 'preact';

/** What went wrong and what to do, said at once to somebody who only hears the page. */
export function ErrorMessage({ children }: { children: ComponentChildren }) {
  return (
    <p class="fault" role="alert">
      {children}
    </p>
  );
}
