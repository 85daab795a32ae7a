import { scaleFor } from '../../../charts/px-scale';
import type { Formatter } from '../../../format/formatter';
import { follows } from './derived-requirements';
import { draftOf } from './form-values';
import { hasOnlyReadyMadePieces } from './labels';
import { Makes } from './pieces-made';
import {
  firingsInWords,
  otherMaterialsInWords,
  planPieceInWords,
  sessionTimesInWords,
  termsInWords,
} from './plan-summary';
import type { Plan, Workshop } from './queries';
import { bodyOf } from './request-body';
import { Timeline } from './timeline';

type Props = { plan: Plan; workshop: Workshop; formatter: Formatter };

/** A plan read like a recipe: what happens in which order, what comes of it, and what it takes. */
export function PlanCard({ plan, workshop, formatter }: Props) {
  const sentences = follows(bodyOf(draftOf(plan, workshop), workshop), workshop, formatter);
  const others = otherMaterialsInWords(plan, workshop, formatter);
  return (
    <div class="plan-card">
      <div>
        <section>
          <h2>
            The sessions <span>each as long as it is wide</span>
          </h2>
          <Timeline sessions={plan.sessions} />
          <ol>
            {plan.sessions.map((session, i) => (
              <li key={`${i} ${session.purpose}`}>{sessionTimesInWords(session)}</li>
            ))}
          </ol>
        </section>
        <section>
          <h2 id="makes">
            What each student {hasOnlyReadyMadePieces(plan) ? 'decorates' : 'makes'}{' '}
            {plan.pieces.length > 0 && <span>1 to {scaleFor(plan.pieces.map(({ size }) => size))}</span>}
          </h2>
          {plan.pieces.length > 0 ? (
            <>
              <Makes pieces={plan.pieces} scale={scaleFor(plan.pieces.map(({ size }) => size))} labelledBy="makes" />
              <ul>
                {plan.pieces.map((piece, i) => (
                  <li key={`${i} ${piece.form}`}>{planPieceInWords(piece, workshop, formatter)}</li>
                ))}
              </ul>
            </>
          ) : (
            <p>Nothing that anybody keeps.</p>
          )}
          {others && <p>{others}</p>}
          <p>{firingsInWords(plan, workshop)}</p>
        </section>
      </div>
      <div>
        <section>
          <h2>What this needs</h2>
          <ul>
            {sentences.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </section>
        <section>
          <h2>On what terms</h2>
          <dl>
            {termsInWords(plan, workshop, formatter).map(([what, much]) => (
              <div key={what}>
                <dt>{what}</dt>
                <dd>{much}</dd>
              </div>
            ))}
          </dl>
        </section>
      </div>
    </div>
  );
}
