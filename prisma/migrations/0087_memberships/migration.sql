ALTER TYPE charge_kind ADD VALUE 'membership';
ALTER TYPE notice_occasion ADD VALUE 'membershipStarted';
ALTER TYPE notice_occasion ADD VALUE 'membershipCharged';
ALTER TYPE notice_occasion ADD VALUE 'membershipFee';
ALTER TYPE notice_occasion ADD VALUE 'membershipPaused';
ALTER TYPE notice_occasion ADD VALUE 'membershipEnds';
ALTER TYPE notice_occasion ADD VALUE 'membershipGoesOn';

INSERT INTO account VALUES ('membership-income', 'Membership fees', 'income');

-- A fee is billed before its month is over. The new word is compared as text, since it can't be used in the transaction that adds it.
ALTER TABLE charge ADD CONSTRAINT charge_membership_is_in_advance CHECK (kind::text <> 'membership' OR in_advance);

-- On what terms somebody can be a member. What members agreed is kept with each of them: a change holds for new ones.
CREATE TABLE membership_kind (
  id              uuid PRIMARY KEY,
  name            text NOT NULL UNIQUE CHECK (name <> ''),
  tax_rate_id     uuid NOT NULL REFERENCES tax_rate,
  notice_months   integer CHECK (notice_months BETWEEN 0 AND 24),
  notice_days     integer CHECK (notice_days BETWEEN 0 AND 366),
  fee_notice_days integer NOT NULL CHECK (fee_notice_days BETWEEN 0 AND 366), -- how long before they pay it members hear of a new fee
  pause_percent   numeric(6, 3) NOT NULL CHECK (pause_percent BETWEEN 0 AND 100), -- of the fee, asked for paused days
  bench_minutes   integer NOT NULL CHECK (bench_minutes BETWEEN 0 AND 44640),
  firing_litres   numeric(8, 2) NOT NULL CHECK (firing_litres >= 0),
  clay_id         uuid REFERENCES material,
  clay_grams      integer NOT NULL CHECK (clay_grams >= 0),
  has_shelf       boolean NOT NULL,
  writes_letters  boolean NOT NULL, -- to a member each time the fee is charged
  CHECK (num_nonnulls(notice_months, notice_days) = 1),
  CHECK ((clay_id IS NULL) = (clay_grams = 0))
);
CREATE INDEX membership_kind_tax_rate_id_idx ON membership_kind (tax_rate_id);
CREATE INDEX membership_kind_clay_id_idx ON membership_kind (clay_id);

-- What new members pay from a day on. Of two for one day the later entered counts.
CREATE TABLE membership_kind_fee (
  id         uuid PRIMARY KEY,
  kind_id    uuid NOT NULL REFERENCES membership_kind ON DELETE CASCADE,
  valid_from date NOT NULL CHECK (valid_from BETWEEN '1900-01-01' AND '2199-12-31'),
  fee_minor  integer NOT NULL CHECK (fee_minor > 0),
  added_at   timestamptz(3) NOT NULL
);
CREATE INDEX membership_kind_fee_kind_id_idx ON membership_kind_fee (kind_id);
CREATE TRIGGER membership_kind_fee_never_changes BEFORE UPDATE ON membership_kind_fee
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

CREATE TABLE membership (
  id            uuid PRIMARY KEY,
  person_id     uuid NOT NULL REFERENCES person,
  kind_id       uuid NOT NULL REFERENCES membership_kind,
  starts_on     date NOT NULL CHECK (starts_on BETWEEN '1900-01-01' AND '2199-12-31'),
  charged_from  date NOT NULL CHECK (charged_from BETWEEN '1900-01-01' AND '2199-12-31'), -- what is before was charged elsewhere
  ends_on       date CHECK (ends_on BETWEEN '1900-01-01' AND '2199-12-31'), -- the last day
  tax_rate_id   uuid NOT NULL REFERENCES tax_rate,
  notice_months integer CHECK (notice_months BETWEEN 0 AND 24),
  notice_days   integer CHECK (notice_days BETWEEN 0 AND 366),
  pause_percent numeric(6, 3) NOT NULL CHECK (pause_percent BETWEEN 0 AND 100),
  bench_minutes integer NOT NULL CHECK (bench_minutes BETWEEN 0 AND 44640),
  firing_litres numeric(8, 2) NOT NULL CHECK (firing_litres >= 0),
  clay_id       uuid REFERENCES material,
  clay_grams    integer NOT NULL CHECK (clay_grams >= 0),
  has_shelf     boolean NOT NULL,
  board_id      uuid REFERENCES board,
  made_at       timestamptz(3) NOT NULL,
  made_by_id    uuid NOT NULL REFERENCES staff_member,
  withdrawn_at  timestamptz(3), -- it was entered by mistake, or somebody thought better of it before anything was charged
  CHECK (charged_from >= starts_on AND ends_on >= starts_on),
  CHECK (num_nonnulls(notice_months, notice_days) = 1),
  CHECK ((clay_id IS NULL) = (clay_grams = 0)),
  CHECK (has_shelf OR board_id IS NULL),
  CONSTRAINT membership_once_at_a_time
    EXCLUDE USING gist (person_id WITH =, daterange(starts_on, ends_on, '[]') WITH &&) WHERE (withdrawn_at IS NULL),
  CONSTRAINT membership_shelf_given_once
    EXCLUDE USING gist (board_id WITH =, daterange(starts_on, ends_on, '[]') WITH &&) WHERE (withdrawn_at IS NULL)
);
CREATE INDEX membership_person_id_idx ON membership (person_id);
CREATE INDEX membership_kind_id_idx ON membership (kind_id);
CREATE INDEX membership_tax_rate_id_idx ON membership (tax_rate_id);
CREATE INDEX membership_clay_id_idx ON membership (clay_id);
CREATE INDEX membership_board_id_idx ON membership (board_id);
CREATE INDEX membership_made_by_id_idx ON membership (made_by_id);

-- What was agreed stays, and one that was withdrawn stays so.
CREATE FUNCTION membership_stays_as_agreed() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.withdrawn_at IS NULL
     AND to_jsonb(NEW) - '{ends_on,board_id,withdrawn_at}'::text[] = to_jsonb(OLD) - '{ends_on,board_id,withdrawn_at}'::text[]
  THEN RETURN NEW; END IF;
  IF TG_OP = 'UPDATE' AND is_merge(TG_RELID, to_jsonb(OLD), to_jsonb(NEW)) THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'membership % stays as it was agreed', OLD.id USING ERRCODE = 'WB030';
END $$;
CREATE TRIGGER membership_stays_as_agreed BEFORE UPDATE OR DELETE ON membership
  FOR EACH ROW EXECUTE FUNCTION membership_stays_as_agreed();

-- What a member pays from a month on, as agreed or as they were told by letter.
CREATE TABLE membership_fee (
  id            uuid PRIMARY KEY,
  membership_id uuid NOT NULL REFERENCES membership,
  from_month    date NOT NULL CHECK (extract(day FROM from_month) = 1 AND from_month BETWEEN '1900-01-01' AND '2199-12-31'),
  fee_minor     integer NOT NULL CHECK (fee_minor > 0),
  added_at      timestamptz(3) NOT NULL
);
CREATE INDEX membership_fee_membership_id_idx ON membership_fee (membership_id);
CREATE TRIGGER membership_fee_never_changes BEFORE UPDATE OR DELETE ON membership_fee
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

CREATE TABLE membership_pause (
  id            uuid PRIMARY KEY,
  membership_id uuid NOT NULL REFERENCES membership,
  from_on       date NOT NULL CHECK (from_on BETWEEN '1900-01-01' AND '2199-12-31'),
  to_on         date NOT NULL CHECK (to_on BETWEEN '1900-01-01' AND '2199-12-31'), -- the last day of it
  withdrawn_at  timestamptz(3),
  CHECK (to_on >= from_on),
  CONSTRAINT membership_pause_once_at_a_time
    EXCLUDE USING gist (membership_id WITH =, daterange(from_on, to_on, '[]') WITH &&) WHERE (withdrawn_at IS NULL)
);

-- What was charged for a month and by what: once, or not at all.
CREATE TABLE membership_month (
  membership_id uuid NOT NULL REFERENCES membership,
  month         date NOT NULL CHECK (extract(day FROM month) = 1 AND month BETWEEN '1900-01-01' AND '2199-12-31'),
  fee_minor     integer NOT NULL CHECK (fee_minor > 0),
  month_days    integer NOT NULL CHECK (month_days = extract(day FROM month + interval '1 month - 1 day')),
  full_days     integer NOT NULL CHECK (full_days >= 0),
  paused_days   integer NOT NULL CHECK (paused_days >= 0),
  pause_percent numeric(6, 3) NOT NULL CHECK (pause_percent BETWEEN 0 AND 100),
  amount_minor  integer NOT NULL,
  charge_id     uuid UNIQUE REFERENCES charge,
  noted_at      timestamptz(3) NOT NULL,
  PRIMARY KEY (membership_id, month),
  CHECK (full_days + paused_days BETWEEN 1 AND month_days),
  CHECK (amount_minor = round(fee_minor * (full_days * 100 + paused_days * pause_percent) / (100 * month_days))),
  CHECK ((amount_minor = 0) = (charge_id IS NULL))
);
CREATE TRIGGER membership_month_never_changes BEFORE UPDATE OR DELETE ON membership_month
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

-- Where fewer days counted in the end, since it was paused or ended after the month was charged: the latest counts.
CREATE TABLE membership_month_change (
  id            uuid PRIMARY KEY,
  membership_id uuid NOT NULL,
  month         date NOT NULL CHECK (month BETWEEN '1900-01-01' AND '2199-12-31'),
  full_days     integer NOT NULL CHECK (full_days >= 0),
  paused_days   integer NOT NULL CHECK (paused_days >= 0),
  amount_minor  integer NOT NULL CHECK (amount_minor >= 0),
  credit_id     uuid NOT NULL UNIQUE REFERENCES credit,
  at            timestamptz(3) NOT NULL,
  FOREIGN KEY (membership_id, month) REFERENCES membership_month (membership_id, month)
);
CREATE INDEX membership_month_change_membership_id_month_idx ON membership_month_change (membership_id, month);
CREATE TRIGGER membership_month_change_never_changes BEFORE UPDATE OR DELETE ON membership_month_change
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

CREATE TABLE membership_event (
  id            uuid PRIMARY KEY,
  membership_id uuid NOT NULL REFERENCES membership,
  at            timestamptz(3) NOT NULL,
  made_by_id    uuid NOT NULL REFERENCES staff_member,
  what          text NOT NULL CHECK (what <> '')
);
CREATE INDEX membership_event_membership_id_id_idx ON membership_event (membership_id, id);
CREATE INDEX membership_event_made_by_id_idx ON membership_event (made_by_id);
CREATE TRIGGER membership_event_never_changes BEFORE UPDATE OR DELETE ON membership_event
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

-- A month is charged to who is the member, for what it comes to, once it has begun to count; and a pause is within the membership.
CREATE FUNCTION membership_month_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (
    SELECT FROM membership m WHERE m.id = NEW.membership_id AND m.withdrawn_at IS NULL
       AND NEW.month >= date_trunc('month', m.charged_from)::date AND (m.ends_on IS NULL OR NEW.month <= m.ends_on)
       AND (NEW.charge_id IS NULL OR EXISTS (
         SELECT FROM charge c WHERE c.id = NEW.charge_id AND c.kind::text = 'membership' AND c.person_id = m.person_id
            AND c.gross_minor = NEW.amount_minor))) THEN
    RAISE EXCEPTION 'membership %: % is charged otherwise', NEW.membership_id, NEW.month USING ERRCODE = 'WB030';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER membership_month_adds_up AFTER INSERT ON membership_month
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_month_adds_up();

CREATE FUNCTION charged_by_a_membership() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM membership_month WHERE charge_id = NEW.id) THEN
    RAISE EXCEPTION 'charge % belongs to no membership', NEW.id USING ERRCODE = 'WB030';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER charged_by_a_membership AFTER INSERT ON charge
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.kind::text = 'membership') EXECUTE FUNCTION charged_by_a_membership();

CREATE FUNCTION membership_pause_fits() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT FROM membership_pause p JOIN membership m ON m.id = p.membership_id
     WHERE m.id = CASE TG_TABLE_NAME WHEN 'membership' THEN to_jsonb(NEW) ->> 'id' ELSE to_jsonb(NEW) ->> 'membership_id' END::uuid
       AND p.withdrawn_at IS NULL
       AND (p.from_on < m.starts_on OR p.to_on > m.ends_on OR m.withdrawn_at IS NOT NULL)) THEN
    RAISE EXCEPTION 'a pause is outside its membership' USING ERRCODE = 'WB030';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER membership_pause_fits AFTER INSERT OR UPDATE ON membership_pause
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_pause_fits();
CREATE CONSTRAINT TRIGGER membership_keeps_its_pauses AFTER UPDATE OF ends_on, withdrawn_at ON membership
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_pause_fits();
