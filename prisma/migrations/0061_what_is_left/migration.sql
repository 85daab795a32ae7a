-- What is left of a lot, and its worth: the sums of its moves, kept by the trigger below, since in ten years the moves are many and the
-- lots with something left are few. `check` adds them up.
DROP TRIGGER lot_never_changes ON lot;
ALTER TABLE lot ADD COLUMN left_quantity integer NOT NULL DEFAULT 0, ADD COLUMN left_minor integer NOT NULL DEFAULT 0;
UPDATE lot SET left_quantity = m.quantity, left_minor = m.minor
  FROM (SELECT lot_id, sum(quantity) AS quantity, sum(cost_minor) AS minor FROM stock_move GROUP BY lot_id) m WHERE m.lot_id = lot.id;
CREATE TRIGGER lot_never_changes
  BEFORE UPDATE OF id, material_id, supplier, received_on, quantity, cost_minor, created_at, consignment_id OR DELETE ON lot
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

CREATE FUNCTION keep_what_is_left() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE lot SET left_quantity = left_quantity + NEW.quantity, left_minor = left_minor + NEW.cost_minor WHERE id = NEW.lot_id;
  RETURN NULL;
END $$;
CREATE TRIGGER stock_move_leaves AFTER INSERT ON stock_move FOR EACH ROW EXECUTE FUNCTION keep_what_is_left();

CREATE INDEX lot_open_idx ON lot (material_id, received_on, id) WHERE left_quantity > 0;
-- The latest that was paid for tells what the next will cost.
CREATE INDEX lot_price_idx ON lot (material_id, (cost_minor > 0), received_on, id) WHERE supplier IS NOT NULL;
-- What asks for a count.
CREATE INDEX stock_move_found_idx ON stock_move (material_id, id) WHERE kind = 'found' AND stocktake_id IS NULL;

-- The move of a deferred check is one of many: what the lot holds is read where it is kept.
CREATE OR REPLACE FUNCTION lot_holds() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  had lot%ROWTYPE;
  cost bigint;
BEGIN
  SELECT * INTO had FROM lot WHERE id = NEW.lot_id FOR UPDATE;
  SELECT had.cost_minor + coalesce(sum(amount_minor), 0) INTO cost FROM carriage_share WHERE lot_id = NEW.lot_id;
  IF had.left_quantity < 0 OR had.left_quantity > had.quantity OR had.left_minor < 0 OR had.left_minor > cost
     OR (had.left_quantity = 0 AND had.left_minor <> 0) THEN
    RAISE EXCEPTION 'lot % would hold % worth %', NEW.lot_id, had.left_quantity, had.left_minor USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
