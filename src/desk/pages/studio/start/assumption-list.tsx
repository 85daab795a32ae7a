import { api } from '../../../api/client';
import { useMutation } from '../../../api/use-mutation';
import { type Assumption, calledIn } from '../../../basics/assumptions';
import { capital } from '../../../format/formatter';
import { ErrorMessage } from '../../../forms/error-message';
import { DataTable } from '../../../ui/data-table';

type Props = { assumptions: readonly Assumption[] };

/** Where each kind of figure is changed. */
const PAGES: Record<Assumption['kind'], string> = {
  ...{ room: '/studio/rooms', kiln: '/kilns/equipment', schedule: '/kilns/equipment', tax: '/studio' },
  ...{
    refundPolicy: '/studio/terms',
    tariff: '/studio/tariffs',
    material: '/shelf/materials',
    lot: '/shelf/materials',
  },
};

/** The page with its form open, where the form is of the thing itself. */
const changeAt = ({ kind, subjectId }: Assumption) =>
  kind === 'tax' || kind === 'lot' ? PAGES[kind] : `${PAGES[kind]}?change=${subjectId}`;

/** Usual figures that the studio works with until it knows its own. */
export function AssumptionList({ assumptions }: Props) {
  const confirming = useMutation({ thenRead: true });
  if (assumptions.length === 0) return null;
  const confirm = (subjectId: string) =>
    confirming.run(subjectId, (headers) =>
      api.POST('/api/assumptions/{subjectId}/confirm', { params: { path: { subjectId } }, headers }),
    );
  return (
    <section>
      <h2>Assumptions</h2>
      <p>Change each when you know.</p>
      {confirming.error && <ErrorMessage>{confirming.error}</ErrorMessage>}
      <DataTable
        caption="Assumptions"
        rows={assumptions}
        keyOf={({ subjectId }) => subjectId}
        columns={[
          { head: 'Of', cell: (one) => <a href={changeAt(one)}>{capital(calledIn(one))}</a> },
          { head: 'Figures', cell: ({ figures }) => figures.join('; ') },
          {
            head: '',
            cell: (one) => (
              <button
                type="button"
                class="quiet"
                aria-label={`${capital(calledIn(one))} is right`}
                onClick={() => confirm(one.subjectId)}
              >
                It is right
              </button>
            ),
          },
        ]}
      />
    </section>
  );
}
