import { PreviewedAction } from '../../../actions/previewed-action';
import { api, type Schemas } from '../../../api/client';
import { capital, count, type Formatter } from '../../../format/formatter';
import { DialogButton } from '../../../ui/dialog';
import { toast } from '../../../ui/toast';
import type { Course } from '../labels';
import type { Booking } from './queries';

type Props = { course: Course; bookings: readonly Booking[]; formatter: Formatter };

/** Notes that a course is over: what was billed for it in advance becomes income. */
export function CompleteCourse(props: Props) {
  return (
    <DialogButton label="Complete course" title={`Complete ${props.course.title}`}>
      {(close) => <Completing {...props} onClose={close} />}
    </DialogButton>
  );
}

function Completing({ course: { id, title }, bookings, formatter, onClose }: Props & { onClose(): void }) {
  const params = { path: { courseId: id } };
  const owing = bookings.filter(({ state, owedMinor }) => state !== 'cancelled' && owedMinor > 0);
  return (
    <PreviewedAction<Record<string, never>, Schemas['Completion']>
      name={`complete ${id}`}
      wish={{}}
      ask={(_, signal) => api.POST('/api/courses/{courseId}/completion/preview', { params, signal })}
      send={(_, headers) => api.POST('/api/courses/{courseId}/completion', { params, headers })}
      save={() => 'Complete course'}
      onDone={() => {
        onClose();
        toast(<span>{title} is completed.</span>);
      }}
      onCancel={onClose}
    >
      {({ supplied }) => (
        <>
          <p>
            {supplied === 0
              ? 'It had no booking: nothing becomes income.'
              : `What was billed for ${count(supplied, 'booking')} becomes income. After that the course stays as it was.`}
          </p>
          {owing.length > 0 && (
            <>
              <p class="amber">
                {capital(count(owing.length, 'booking'))} {owing.length === 1 ? 'is' : 'are'} not paid in full, and will
                still be owed. Cancel first where nothing is to be asked.
              </p>
              <ul>
                {owing.map(({ id: bookingId, payerName, owedMinor }) => (
                  <li key={bookingId}>
                    {payerName}: {formatter.moneyInText(owedMinor)}
                  </li>
                ))}
              </ul>
            </>
          )}
        </>
      )}
    </PreviewedAction>
  );
}
