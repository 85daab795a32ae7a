import type { WareForm } from '../../database/generated/enums.js';
import type { Transaction } from '../../database/transaction.js';
import type { Stage } from '../../trade/firing/ware-stages.js';
import type { Occasion } from '../notices/contract.js';
import { HERE } from '../ware/queries.js';

export type StandingPiece = {
  id: string;
  code: string;
  makerId: string;
  maker: string;
  description: string;
  form: WareForm;
  widthMm: number;
  depthMm: number;
  heightMm: number;
  stage: Stage;
  /** when it came to its stage */
  since: Date;
  /** the firing in whose load it stands, planned or on */
  firingNumber: number | null;
  inTheFire: boolean;
  /** was its maker told of it since it last became ready? */
  told: boolean;
};

/**
 * All ware that is somewhere between clay and its maker's hands, and what these firings hold, longest at its stage first. When it
 * came there is the first of its latest run of events of that stage: to move it, or to note something of it, starts no new wait.
 * Later and earlier go by ids (UUID v7), since what is caught up with bears the times at which it happened. `max(uuid)` is for
 * PostgreSQL 18 only, so that the last event of another stage is found by the index.
 */
export async function listStandingPieces(tx: Transaction, firingIds: readonly string[]): Promise<StandingPiece[]> {
  return tx.$queryRaw<StandingPiece[]>`
    SELECT p.id::text, p.code, p.maker_id::text AS "makerId", m.name AS maker, p.description, p.form::text,
           p.width_mm AS "widthMm", p.depth_mm AS "depthMm", p.height_mm AS "heightMm", p.stage::text,
           coalesce(came.at, p.created_at) AS since,
           load.number AS "firingNumber", coalesce(load.state = 'firing', false) AS "inTheFire",
           EXISTS (SELECT 1 FROM announced_piece a WHERE a.piece_id = p.id
                      AND (other.id IS NULL OR a.notice_id > other.id)) AS told
      FROM piece p
      JOIN person m ON m.id = p.maker_id
      LEFT JOIN LATERAL (SELECT e.id FROM piece_event e WHERE e.piece_id = p.id AND e.stage <> p.stage
                          ORDER BY e.id DESC LIMIT 1) other ON true
      LEFT JOIN LATERAL (SELECT e.at FROM piece_event e WHERE e.piece_id = p.id
                            AND (other.id IS NULL OR e.id > other.id)
                          ORDER BY e.id LIMIT 1) came ON true
      LEFT JOIN LATERAL (SELECT f.number, f.state FROM placement l JOIN firing f ON f.id = l.firing_id
                          WHERE l.piece_id = p.id AND f.state IN ('planned', 'firing') LIMIT 1) load ON true
     WHERE p.id IN (SELECT p.id FROM piece p WHERE ${HERE}
                     UNION SELECT piece_id FROM placement WHERE firing_id = ANY(${firingIds}::uuid[]))
     ORDER BY since, p.code`;
}

type Undelivered = {
  noticeId: string;
  personId: string;
  personName: string;
  occasion: Occasion;
  at: Date;
  outcome: 'failed' | 'noAddress';
  detail: string;
};

/** The notices whose last delivery, since then, reached nobody. One that failed and went out later is left out. */
export async function undelivered(tx: Transaction, since: Date): Promise<Undelivered[]> {
  return tx.$queryRaw<Undelivered[]>`
    SELECT n.id::text AS "noticeId", n.person_id::text AS "personId", p.name AS "personName", n.occasion::text,
           d.at, d.outcome::text, d.detail
      FROM delivery d JOIN notice n ON n.id = d.notice_id JOIN person p ON p.id = n.person_id
     WHERE d.outcome IN ('failed', 'noAddress') AND d.at >= ${since}
       AND NOT EXISTS (SELECT 1 FROM delivery later WHERE later.notice_id = d.notice_id AND later.id > d.id)
     ORDER BY d.at DESC, n.id DESC`;
}
