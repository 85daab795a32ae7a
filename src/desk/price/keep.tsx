import { useState } from 'preact/hooks';
import { api, signInFirst } from '../client';

/** Keeps what the server reckons today; what was tried out is not kept. */
export function Keep({ courseId }: { courseId: string }) {
  const [said, setSaid] = useState<{ kept: boolean; words: string } | null>(null);
  const keep = async () => {
    try {
      await api.POST('/api/courses/{courseId}/price-quotes', { params: { path: { courseId } } });
      setSaid({ kept: true, words: 'Kept, with today’s figures and all that they came from.' });
    } catch (error) {
      if (!signInFirst(error)) setSaid({ kept: false, words: (error as Error).message });
    }
  };
  return (
    <div class="keep">
      <button type="button" onClick={keep}>
        Keep today’s reckoning
      </button>
      <p role="status" class={said ? (said.kept ? 'done' : 'fault') : 'nothing'}>
        {said?.words}
      </p>
    </div>
  );
}
