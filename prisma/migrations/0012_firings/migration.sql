CREATE TYPE firing_state AS ENUM ('planned', 'firing', 'unloaded', 'settled', 'failed');
CREATE TYPE placement_outcome AS ENUM ('good', 'refire', 'broken');

CREATE TABLE firing (
  id             uuid PRIMARY KEY,
  number         integer NOT NULL UNIQUE CHECK (number > 0),
  kiln_id        uuid NOT NULL REFERENCES kiln,
  schedule_id    uuid NOT NULL REFERENCES schedule,
  state          firing_state NOT NULL,
  planned_from   timestamptz(3) NOT NULL,
  planned_to     timestamptz(3) NOT NULL,
  started_at     timestamptz(3),
  ended_at       timestamptz(3),
  unloaded_at    timestamptz(3),
  failed_because text CHECK (failed_because <> ''),
  labour_minutes integer NOT NULL CHECK (labour_minutes BETWEEN 0 AND 10000),
  tariff_id      uuid REFERENCES tariff,
  energy_kwh     numeric(10, 3) CHECK (energy_kwh >= 0),
  energy_minor   integer CHECK (energy_minor >= 0),
  wear_minor     integer CHECK (wear_minor >= 0),
  labour_minor   integer CHECK (labour_minor >= 0),
  CHECK (planned_from < planned_to),
  CHECK (started_at <= ended_at AND ended_at <= unloaded_at),
  CHECK ((state = 'planned') = (started_at IS NULL)),
  CHECK ((state IN ('unloaded', 'settled', 'failed')) = (ended_at IS NOT NULL AND unloaded_at IS NOT NULL)),
  CHECK ((state = 'failed') = (failed_because IS NOT NULL)),
  -- A failed firing may be settled too: its cost is the studio's, and it stays failed.
  CHECK (state <> 'settled' OR energy_minor IS NOT NULL),
  CHECK (state IN ('settled', 'failed') OR energy_minor IS NULL),
  CHECK (num_nulls(energy_kwh, energy_minor, wear_minor, labour_minor, tariff_id) IN (0, 5)),
  -- Plans only: what happened is recorded as it was, even where it overran into the next plan.
  CONSTRAINT kiln_once_at_a_time EXCLUDE USING gist (kiln_id WITH =, tstzrange(planned_from, planned_to) WITH &&) WHERE (state = 'planned'),
  CONSTRAINT kiln_fires_one_load EXCLUDE USING gist (kiln_id WITH =) WHERE (state = 'firing')
);
CREATE INDEX firing_kiln_id_idx ON firing (kiln_id);

CREATE TABLE reading (
  firing_id uuid NOT NULL REFERENCES firing,
  at        timestamptz(3) NOT NULL,
  kwh       numeric(12, 3) NOT NULL CHECK (kwh >= 0),
  PRIMARY KEY (firing_id, at)
);

CREATE TABLE placement (
  firing_id      uuid NOT NULL REFERENCES firing,
  piece_id       uuid NOT NULL REFERENCES piece,
  layer          integer NOT NULL CHECK (layer BETWEEN 1 AND 30), -- from below
  studio_pays    boolean NOT NULL, -- a refire, say, that the studio owes its maker
  hotter_because text CHECK (hotter_because <> ''), -- why lustred ware goes hotter than lustre
  outcome        placement_outcome,
  PRIMARY KEY (firing_id, piece_id)
);
CREATE INDEX placement_piece_id_idx ON placement (piece_id);

-- A piece is in one kiln at a time, and only at a stage that this firing may take; lustred ware goes no hotter without a reason.
CREATE FUNCTION piece_in_one_kiln() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  places bigint;
  stands_at piece_stage;
  firing_kind firing_kind;
BEGIN
  SELECT stage INTO stands_at FROM piece WHERE id = NEW.piece_id FOR UPDATE;
  SELECT count(*) INTO places FROM placement p JOIN firing f ON f.id = p.firing_id
    WHERE p.piece_id = NEW.piece_id AND f.state IN ('planned', 'firing');
  IF places > 1 THEN
    RAISE EXCEPTION 'piece % is in % kilns', NEW.piece_id, places USING ERRCODE = 'WB007';
  END IF;
  SELECT s.kind INTO firing_kind FROM firing f JOIN schedule s ON s.id = f.schedule_id WHERE f.id = NEW.firing_id;
  IF NOT (CASE firing_kind -- in brackets: PL/pgSQL would end the condition at the first THEN
       WHEN 'bisque' THEN stands_at = 'dry'
       WHEN 'glaze'  THEN stands_at IN ('glazed', 'fired', 'ready')
       WHEN 'lustre' THEN stands_at IN ('fired', 'ready') END) THEN
    RAISE EXCEPTION 'piece % is %, which a % firing does not take', NEW.piece_id, stands_at, firing_kind USING ERRCODE = 'WB007';
  END IF;
  IF firing_kind <> 'lustre' AND NEW.hotter_because IS NULL AND EXISTS (
       SELECT 1 FROM placement p JOIN firing f ON f.id = p.firing_id JOIN schedule s ON s.id = f.schedule_id
        WHERE p.piece_id = NEW.piece_id AND s.kind = 'lustre' AND p.outcome = 'good') THEN
    RAISE EXCEPTION 'piece % bears lustre', NEW.piece_id USING ERRCODE = 'WB007';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER piece_in_one_kiln AFTER INSERT ON placement
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION piece_in_one_kiln();

-- Nobody dries, glazes or collects what is in the fire.
CREATE FUNCTION piece_in_the_fire_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM placement p JOIN firing f ON f.id = p.firing_id WHERE p.piece_id = NEW.id AND f.state = 'firing') THEN
    RAISE EXCEPTION 'piece % is in the fire', NEW.id USING ERRCODE = 'WB007';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER piece_in_the_fire_stays BEFORE UPDATE OF stage ON piece
  FOR EACH ROW WHEN (OLD.stage <> NEW.stage) EXECUTE FUNCTION piece_in_the_fire_stays();

-- Who bears which part of a firing; the row without a piece is the studio's own.
CREATE TABLE share (
  id           uuid PRIMARY KEY,
  firing_id    uuid NOT NULL REFERENCES firing,
  piece_id     uuid REFERENCES piece,
  person_id    uuid REFERENCES person,
  weight_mm3   bigint NOT NULL CHECK (weight_mm3 >= 0),
  amount_minor integer NOT NULL CHECK (amount_minor >= 0),
  UNIQUE NULLS NOT DISTINCT (firing_id, piece_id),
  CHECK ((piece_id IS NULL) = (person_id IS NULL))
);
CREATE TRIGGER share_never_changes BEFORE UPDATE OR DELETE ON share
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB007');

CREATE FUNCTION shares_add_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  firing uuid := coalesce((to_jsonb(NEW) ->> 'firing_id')::uuid, (to_jsonb(NEW) ->> 'id')::uuid);
  off bigint;
BEGIN
  SELECT f.energy_minor + f.wear_minor + f.labour_minor
         - (SELECT coalesce(sum(amount_minor), 0) FROM share WHERE firing_id = f.id)
    INTO off FROM firing f WHERE f.id = firing AND f.energy_minor IS NOT NULL;
  IF off <> 0 THEN
    RAISE EXCEPTION 'firing %: its shares are off by %', firing, off USING ERRCODE = 'WB007';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER firing_shares_add_up AFTER INSERT OR UPDATE ON firing
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION shares_add_up();
CREATE CONSTRAINT TRIGGER share_adds_up AFTER INSERT ON share
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION shares_add_up();

-- One bill per maker and firing.
CREATE TABLE firing_charge (
  charge_id uuid PRIMARY KEY REFERENCES charge,
  firing_id uuid NOT NULL REFERENCES firing,
  person_id uuid NOT NULL REFERENCES person,
  UNIQUE (firing_id, person_id)
);

-- Which notice told the maker that a piece is ready. A piece that became ready anew afterwards is told of again.
CREATE TABLE announced_piece (
  piece_id  uuid NOT NULL REFERENCES piece,
  notice_id uuid NOT NULL REFERENCES notice,
  PRIMARY KEY (piece_id, notice_id)
);
CREATE INDEX announced_piece_notice_id_idx ON announced_piece (notice_id);
