-- What a manufacturer's statement asks for. Until somebody has entered that, no piece can be held against it.
ALTER TABLE material
  ADD statement_compares  boolean NOT NULL DEFAULT false,
  ADD statement_coats_from integer CHECK (statement_coats_from BETWEEN 1 AND 20),
  ADD statement_coats_to   integer CHECK (statement_coats_to BETWEEN 1 AND 20),
  ADD statement_way        glaze_way,
  ADD statement_from_c     integer CHECK (statement_from_c BETWEEN 100 AND 1500),
  ADD statement_to_c       integer CHECK (statement_to_c BETWEEN 100 AND 1500),
  ADD CHECK (statement_coats_from <= statement_coats_to),
  ADD CHECK ((statement_coats_from IS NULL) = (statement_coats_to IS NULL)),
  ADD CHECK (statement_from_c <= statement_to_c),
  ADD CHECK ((statement_from_c IS NULL) = (statement_to_c IS NULL)),
  ADD CHECK (manufacturer_statement IS NOT NULL OR NOT statement_compares),
  ADD CHECK (statement_compares OR num_nonnulls(statement_coats_from, statement_way, statement_from_c) = 0);

-- How a layer was put on, and how many firings the piece had come out of by then: what went on since is still raw. A layer that was
-- washed off ends; it is never deleted.
ALTER TABLE piece_glaze
  ADD way            glaze_way, -- none: nobody noted it
  ADD firings_before integer NOT NULL DEFAULT 0 CHECK (firings_before >= 0),
  ADD washed_off_at  timestamptz(3);
-- Glaze was for bisque alone until now; what lay on slip of an earlier day can't be told any more.
UPDATE piece_glaze g SET firings_before = (
  SELECT count(*) FROM placement p JOIN firing f ON f.id = p.firing_id JOIN schedule s ON s.id = f.schedule_id
   WHERE p.piece_id = g.piece_id AND p.outcome IS NOT NULL AND s.kind = 'bisque');
ALTER TABLE piece_glaze ALTER firings_before DROP DEFAULT;

CREATE FUNCTION piece_glaze_is_appended() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD.washed_off_at IS NULL AND NEW.washed_off_at IS NOT NULL
     AND to_jsonb(NEW) - 'washed_off_at' = to_jsonb(OLD) - 'washed_off_at'
     AND OLD.firings_before = (SELECT count(*) FROM placement WHERE piece_id = OLD.piece_id AND outcome IS NOT NULL) THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'layer % of piece % has been fired, or is changed otherwise than by washing it off', OLD.ordinal, OLD.piece_id
    USING ERRCODE = 'WB007';
END $$;
CREATE TRIGGER piece_glaze_is_appended BEFORE UPDATE OR DELETE ON piece_glaze
  FOR EACH ROW EXECUTE FUNCTION piece_glaze_is_appended();

-- Clay is reclaimed before it was ever fired; only what is ready is given away; nothing raw leaves the studio (wax burns away).
CREATE FUNCTION piece_leaves_as_it_may() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.stage = 'reclaimed' AND OLD.stage NOT IN ('greenware', 'dry') OR NEW.stage = 'givenAway' AND OLD.stage <> 'ready' THEN
    RAISE EXCEPTION 'piece % can''t become % from %', NEW.id, NEW.stage, OLD.stage USING ERRCODE = 'WB007';
  END IF;
  IF NEW.stage IN ('ready', 'collected', 'givenAway') AND EXISTS (
       SELECT 1 FROM piece_glaze g JOIN material m ON m.id = g.material_id
        WHERE g.piece_id = NEW.id AND g.washed_off_at IS NULL AND m.kind <> 'wax' AND g.firings_before = (
          SELECT count(*) FROM placement p WHERE p.piece_id = NEW.id AND p.outcome IS NOT NULL)) THEN
    RAISE EXCEPTION 'piece % has a layer that was not fired', NEW.id USING ERRCODE = 'WB007';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER piece_leaves_as_it_may BEFORE UPDATE OF stage ON piece
  FOR EACH ROW WHEN (OLD.stage <> NEW.stage) EXECUTE FUNCTION piece_leaves_as_it_may();

-- What was given away went with its caution: the event says which.
ALTER TABLE piece_event ADD CONSTRAINT given_away_with_its_caution CHECK (stage <> 'givenAway' OR note <> '');

-- Powders that a recipe takes alike may be called another also once there are lots: feldspar had to be entered as a frit.
CREATE OR REPLACE FUNCTION material_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (OLD.unit <> NEW.unit OR OLD.kind NOT IN ('rawMaterial', 'frit', 'oxide', 'stain') OR NEW.kind NOT IN ('rawMaterial', 'frit', 'oxide', 'stain'))
     AND EXISTS (SELECT 1 FROM lot WHERE material_id = NEW.id) THEN
    RAISE EXCEPTION 'material % has lots', NEW.id USING ERRCODE = '23503';
  END IF;
  RETURN NEW;
END $$;
