import { useEffect, useRef } from 'preact/hooks';

let moved = false;

/** For the router: the page that the browser loaded is left, and from now on pages come without the browser's help. */
export function pageChanged(): void {
  moved = true;
}

/**
 * The question of a page. A browser puts the focus at the top of a page that it loads, and says its name; where the desk changes
 * the page itself, the link that had the focus is gone, and whoever hears the page would be told nothing. So the question takes it.
 */
export function Heading({ children }: { children: string }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (moved && document.activeElement === document.body) heading.current?.focus();
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1}>
      {children}
    </h1>
  );
}
