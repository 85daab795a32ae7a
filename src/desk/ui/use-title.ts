import { useEffect } from 'preact/hooks';

/** Names the page in the browser's tabs and history, and to whoever hears it read. */
export function useTitle(title: string): void {
  useEffect(() => {
    document.title = `${title} · Wareboard`;
  }, [title]);
}
