import { api } from '../../../api/client';
import type { Headers } from '../../../api/idempotency-key';
import { useMutation } from '../../../api/use-mutation';
import { ErrorMessage } from '../../../forms/error-message';
import { toast } from '../../../ui/toast';
import type { Plan } from './queries';

/** Takes a plan out of those that are offered for new courses, or brings it back; either can be undone at once. */
export function RetirePlan({ plan: { id, name, retiredOn } }: { plan: Plan }) {
  const { run, busy, error } = useMutation({ thenRead: true });
  const at = { params: { path: { planId: id } } };
  const retire = (headers: Headers) => api.POST('/api/course-plans/{planId}/retirement', { ...at, headers });
  const bringBack = (headers: Headers) => api.POST('/api/course-plans/{planId}/return', { ...at, headers });
  const press = async () => {
    const isRetired = retiredOn !== null;
    if (!(await run({ id, isRetired }, isRetired ? bringBack : retire))) return;
    if (isRetired) toast(<span>“{name}” is offered again.</span>, { work: retire, undone: `“${name}” is retired.` });
    else toast(<span>“{name}” is retired.</span>, { work: bringBack, undone: `“${name}” is offered again.` });
  };
  return (
    <>
      <button type="button" class="quiet" aria-disabled={busy} onClick={press}>
        {retiredOn === null ? 'Retire this plan' : 'Bring this plan back'}
      </button>
      {error && <ErrorMessage>{error}</ErrorMessage>}
    </>
  );
}
