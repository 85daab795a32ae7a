import type { Schemas } from '../../../api/client';

type Told = Pick<Schemas['SessionMove'], 'concerned' | 'alsoTold'>;

/** Who gets a letter of a session that is moved or added: who pays, for whom, and who is told at their own address. */
export function WhomItConcerns({ concerned, alsoTold }: Told) {
  if (concerned.length === 0) return <p>No letter goes out.</p>;
  return (
    <>
      <p>Each of these gets a letter:</p>
      <ul aria-label="Whom it concerns">
        {concerned.map(({ bookingId, payerName, attendees }) => (
          <li key={bookingId}>
            {payerName}
            {(attendees.length > 1 || attendees[0] !== payerName) && `, for ${attendees.join(', ')}`}
          </li>
        ))}
        {alsoTold.map(({ personId, name }) => (
          <li key={personId}>{name}, at their own address</li>
        ))}
      </ul>
    </>
  );
}
