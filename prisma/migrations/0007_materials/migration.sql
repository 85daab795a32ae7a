CREATE TYPE material_kind AS ENUM ('clay', 'glaze', 'slip', 'consumable', 'packaging');
CREATE TYPE base_unit AS ENUM ('g', 'ml', 'piece');
CREATE TYPE move_kind AS ENUM ('received', 'drawn', 'wasted', 'found', 'missing');

CREATE TABLE material (
  id                       uuid PRIMARY KEY,
  name                     text NOT NULL UNIQUE CHECK (name <> ''),
  kind                     material_kind NOT NULL,
  unit                     base_unit NOT NULL,
  pack_quantity            integer NOT NULL CHECK (pack_quantity > 0),
  lead_time_days           integer NOT NULL CHECK (lead_time_days BETWEEN 0 AND 365),
  water_percent            numeric(6, 3) CHECK (water_percent BETWEEN 0 AND 90),
  drying_shrinkage_percent numeric(6, 3) CHECK (drying_shrinkage_percent BETWEEN 0 AND 40),
  firing_shrinkage_percent numeric(6, 3) CHECK (firing_shrinkage_percent BETWEEN 0 AND 40),
  dry_grams_per_ml         numeric(8, 4) CHECK (dry_grams_per_ml > 0),
  fires_from_c             integer CHECK (fires_from_c BETWEEN 100 AND 1500),
  fires_to_c               integer CHECK (fires_to_c BETWEEN 100 AND 1500),
  maker_statement          text CHECK (maker_statement <> ''),
  maker_statement_on       date,
  CHECK (fires_from_c <= fires_to_c),
  CHECK ((fires_from_c IS NULL) = (fires_to_c IS NULL)),
  CHECK ((maker_statement IS NULL) = (maker_statement_on IS NULL))
);

CREATE TABLE lot (
  id          uuid PRIMARY KEY,
  material_id uuid NOT NULL REFERENCES material,
  supplier    text CHECK (supplier <> ''), -- none for what was found
  received_on date NOT NULL,
  quantity    integer NOT NULL CHECK (quantity > 0),
  cost_minor  integer NOT NULL CHECK (cost_minor >= 0), -- carriage included
  created_at  timestamptz(3) NOT NULL,
  UNIQUE (id, material_id),
  CHECK (supplier IS NOT NULL OR cost_minor = 0)
);
CREATE INDEX lot_material_id_idx ON lot (material_id, received_on, id);
CREATE TRIGGER lot_never_changes BEFORE UPDATE OR DELETE ON lot
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- What was counted on the shelf, against what the books said. It is kept where the two agree as well: it answers an open question.
CREATE TABLE stocktake (
  id          uuid PRIMARY KEY,
  material_id uuid NOT NULL REFERENCES material,
  at          timestamptz(3) NOT NULL,
  counted     integer NOT NULL CHECK (counted >= 0),
  in_books    integer NOT NULL CHECK (in_books >= 0),
  explanation text CHECK (explanation <> ''),
  UNIQUE (id, material_id),
  CHECK (counted = in_books OR explanation IS NOT NULL)
);
CREATE INDEX stocktake_material_id_idx ON stocktake (material_id, id);
CREATE TRIGGER stocktake_never_changes BEFORE UPDATE OR DELETE ON stocktake
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- The only way in which stock changes. Found without a stocktake is what a draw took beyond the books.
CREATE TABLE stock_move (
  id           uuid PRIMARY KEY,
  material_id  uuid NOT NULL REFERENCES material,
  lot_id       uuid NOT NULL,
  kind         move_kind NOT NULL,
  quantity     integer NOT NULL CHECK (quantity <> 0),
  cost_minor   integer NOT NULL,
  at           timestamptz(3) NOT NULL,
  note         text NOT NULL,
  stocktake_id uuid,
  FOREIGN KEY (lot_id, material_id) REFERENCES lot (id, material_id),
  FOREIGN KEY (stocktake_id, material_id) REFERENCES stocktake (id, material_id),
  CHECK (kind <> 'missing' OR stocktake_id IS NOT NULL),
  CHECK (kind IN ('found', 'missing') OR stocktake_id IS NULL),
  CHECK ((kind IN ('received', 'found')) = (quantity > 0)),
  CHECK (sign(cost_minor) IN (0, sign(quantity)))
);
CREATE INDEX stock_move_lot_id_idx ON stock_move (lot_id);
CREATE INDEX stock_move_material_id_idx ON stock_move (material_id, at);
CREATE TRIGGER stock_move_never_changes BEFORE UPDATE OR DELETE ON stock_move
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- A lot holds between nothing and what it was, in quantity and in money, and its money ends with its quantity.
CREATE FUNCTION lot_holds() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  had lot%ROWTYPE;
  left_over bigint;
  worth bigint;
BEGIN
  SELECT * INTO had FROM lot WHERE id = NEW.lot_id FOR UPDATE;
  SELECT sum(quantity), sum(cost_minor) INTO left_over, worth FROM stock_move WHERE lot_id = NEW.lot_id;
  IF left_over < 0 OR left_over > had.quantity OR worth < 0 OR worth > had.cost_minor OR (left_over = 0 AND worth <> 0) THEN
    RAISE EXCEPTION 'lot % would hold % worth %', NEW.lot_id, left_over, worth USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER lot_holds AFTER INSERT ON stock_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION lot_holds();

-- After a stocktake the books say what was counted.
CREATE FUNCTION stocktake_settles() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  entered bigint;
BEGIN
  SELECT coalesce(sum(quantity), 0) INTO entered FROM stock_move WHERE stocktake_id = NEW.id;
  IF entered <> NEW.counted - NEW.in_books THEN
    RAISE EXCEPTION 'stocktake %: % counted, % in the books, % entered', NEW.id, NEW.counted, NEW.in_books, entered USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER stocktake_settles AFTER INSERT ON stocktake
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION stocktake_settles();
