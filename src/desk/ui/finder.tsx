import { useEffect, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { Formatter } from '../format/formatter';

type Box = typeof import('./find-box').FindBox;

const WIDE = '(min-width: 641px)';
let loaded: Box | undefined;

/** The find box in the header, on a phone behind one button. Its code is read after the page's own, so that a page comes first. */
export function Finder({ formatter }: { formatter: Formatter }) {
  const [Box, setBox] = useState<{ of: Box } | undefined>(loaded && { of: loaded });
  const [isWide, setWide] = useState(() => matchMedia(WIDE).matches);
  const [isOpen, setOpen] = useState(false);
  const { url } = useLocation();
  useEffect(() => setOpen(false), [url]);
  useEffect(() => {
    const media = matchMedia(WIDE);
    const changed = () => setWide(media.matches);
    media.addEventListener('change', changed);
    return () => media.removeEventListener('change', changed);
  }, []);
  const isShown = isWide || isOpen;
  useEffect(() => {
    if (!isShown || Box) return;
    void import('./find-box').then(({ FindBox }) => {
      loaded = FindBox;
      setBox({ of: FindBox });
    });
  }, [isShown]);
  return (
    <div class="finder no-paper">
      {!isWide && (
        <button type="button" class="quiet" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
          Find
        </button>
      )}
      {isShown && Box && <Box.of formatter={formatter} focus={!isWide} onGone={() => setOpen(false)} />}
    </div>
  );
}
