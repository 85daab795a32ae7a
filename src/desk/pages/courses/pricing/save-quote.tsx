import { useState } from 'preact/hooks';
import { api, signInFirst } from '../../../api/client';

/** Saves what the server works out today; what was tried out is not saved. */
export function SaveQuote({ courseId, onSaved }: { courseId: string; onSaved(): void }) {
  const [said, setSaid] = useState<{ kept: boolean; words: string } | null>(null);
  const save = async () => {
    try {
      await api.POST('/api/courses/{courseId}/price-quotes', { params: { path: { courseId } } });
      onSaved();
      setSaid({ kept: true, words: 'Saved with today’s figures and their sources.' });
    } catch (error) {
      if (!signInFirst(error)) setSaid({ kept: false, words: (error as Error).message });
    }
  };
  return (
    <div class="keep">
      <button type="button" onClick={save}>
        Save today’s price
      </button>
      <p role="status" class={said ? (said.kept ? 'done' : 'fault') : 'nothing'}>
        {said?.words}
      </p>
    </div>
  );
}
