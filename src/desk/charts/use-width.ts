import { useLayoutEffect, useRef, useState } from 'preact/hooks';

/** The width of what holds a drawing, in px, so that its lettering keeps its size on every screen. */
export function useWidth(initial = 640) {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(initial);
  useLayoutEffect(() => {
    const holder = ref.current;
    if (!holder) return;
    const measure = () => setWidth(Math.max(240, holder.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(holder);
    return () => observer.disconnect();
  }, []);
  return [ref, width] as const;
}
