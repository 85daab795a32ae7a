ALTER TYPE material_kind ADD VALUE 'underglaze';
ALTER TYPE material_kind ADD VALUE 'oxide';
ALTER TYPE material_kind ADD VALUE 'frit';
ALTER TYPE material_kind ADD VALUE 'glass';
ALTER TYPE material_kind ADD VALUE 'lustre';
ALTER TYPE material_kind ADD VALUE 'wax';
ALTER TYPE material_kind ADD VALUE 'kilnWash';
ALTER TYPE move_kind ADD VALUE 'returned';
ALTER TYPE move_kind ADD VALUE 'reclaimed';
ALTER TYPE move_kind ADD VALUE 'carriage';
ALTER TYPE document_kind ADD VALUE 'order';

-- Whom the studio buys from. Lots keep the name that stood on their delivery, whatever becomes of this row.
CREATE TABLE supplier (
  id              uuid PRIMARY KEY,
  name            text NOT NULL UNIQUE CHECK (name <> ''),
  email           text CHECK (email <> ''),
  address_lines   text[] NOT NULL,
  lead_time_days  integer NOT NULL CHECK (lead_time_days BETWEEN 0 AND 365),
  carriage_minor  integer NOT NULL CHECK (carriage_minor >= 0),
  free_from_minor integer CHECK (free_from_minor > 0) -- none: carriage is charged on every order
);

ALTER TABLE material
  ADD supplier_id     uuid REFERENCES supplier,
  ADD shelf_life_days integer CHECK (shelf_life_days BETWEEN 1 AND 7300), -- none: it keeps
  ADD hazard_note     text CHECK (hazard_note <> ''),
  ADD hazard_note_on  date,
  ADD CHECK ((hazard_note IS NULL) = (hazard_note_on IS NULL));
CREATE INDEX material_supplier_id_idx ON material (supplier_id);

-- As what a material is sold by its usual supplier.
CREATE TABLE material_pack (
  material_id uuid NOT NULL REFERENCES material,
  quantity    integer NOT NULL CHECK (quantity > 0),
  price_minor integer NOT NULL CHECK (price_minor >= 0),
  PRIMARY KEY (material_id, quantity)
);

-- A lot of so many grams can't become one of so many pieces.
CREATE FUNCTION material_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM lot WHERE material_id = NEW.id) THEN
    RAISE EXCEPTION 'material % has lots', NEW.id USING ERRCODE = '23503';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER material_stays BEFORE UPDATE ON material
  FOR EACH ROW WHEN (OLD.unit <> NEW.unit OR OLD.kind <> NEW.kind) EXECUTE FUNCTION material_stays();

CREATE TYPE supply_order_event_kind AS ENUM ('drafted', 'placed', 'cancelled');

-- What is ordered of a supplier. How far it has come is told by its events and by what has arrived.
CREATE TABLE supply_order (
  id             uuid PRIMARY KEY,
  number         integer NOT NULL UNIQUE CHECK (number > 0),
  supplier_id    uuid NOT NULL REFERENCES supplier,
  carriage_minor integer NOT NULL CHECK (carriage_minor >= 0),
  note           text NOT NULL
);
CREATE INDEX supply_order_supplier_id_idx ON supply_order (supplier_id);
CREATE TRIGGER supply_order_never_changes BEFORE UPDATE OR DELETE ON supply_order
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

CREATE TABLE supply_order_line (
  order_id         uuid NOT NULL REFERENCES supply_order,
  material_id      uuid NOT NULL REFERENCES material,
  pack_quantity    integer NOT NULL CHECK (pack_quantity > 0),
  packs            integer NOT NULL CHECK (packs > 0),
  pack_price_minor integer NOT NULL CHECK (pack_price_minor >= 0),
  PRIMARY KEY (order_id, material_id, pack_quantity)
);
CREATE INDEX supply_order_line_material_id_idx ON supply_order_line (material_id);
CREATE TRIGGER supply_order_line_never_changes BEFORE UPDATE OR DELETE ON supply_order_line
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

CREATE TABLE supply_order_event (
  id          uuid PRIMARY KEY,
  order_id    uuid NOT NULL REFERENCES supply_order,
  kind        supply_order_event_kind NOT NULL,
  at          timestamptz(3) NOT NULL,
  expected_on date,
  document_id uuid UNIQUE REFERENCES document,
  note        text NOT NULL,
  UNIQUE (order_id, kind),
  CHECK ((kind = 'placed') = (expected_on IS NOT NULL)),
  CHECK ((kind = 'placed') = (document_id IS NOT NULL))
);
CREATE TRIGGER supply_order_event_never_changes BEFORE UPDATE OR DELETE ON supply_order_event
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

-- Lots that came together, and whose carriage is one bill.
CREATE TABLE consignment (
  id          uuid PRIMARY KEY,
  supplier    text NOT NULL CHECK (supplier <> ''),
  received_on date NOT NULL,
  order_id    uuid REFERENCES supply_order,
  created_at  timestamptz(3) NOT NULL
);
CREATE INDEX consignment_order_id_idx ON consignment (order_id);
CREATE TRIGGER consignment_never_changes BEFORE UPDATE OR DELETE ON consignment
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');
ALTER TABLE lot ADD consignment_id uuid REFERENCES consignment;
CREATE INDEX lot_consignment_id_idx ON lot (consignment_id);

CREATE TABLE carriage_bill (
  id             uuid PRIMARY KEY,
  consignment_id uuid NOT NULL REFERENCES consignment,
  amount_minor   integer NOT NULL CHECK (amount_minor > 0),
  note           text NOT NULL,
  created_at     timestamptz(3) NOT NULL
);
CREATE INDEX carriage_bill_consignment_id_idx ON carriage_bill (consignment_id);
CREATE TRIGGER carriage_bill_never_changes BEFORE UPDATE OR DELETE ON carriage_bill
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- A lot costs what stands on it and its shares of carriage.
CREATE TABLE carriage_share (
  bill_id      uuid NOT NULL REFERENCES carriage_bill,
  lot_id       uuid NOT NULL REFERENCES lot,
  amount_minor integer NOT NULL CHECK (amount_minor >= 0),
  PRIMARY KEY (bill_id, lot_id)
);
CREATE INDEX carriage_share_lot_id_idx ON carriage_share (lot_id);
CREATE TRIGGER carriage_share_never_changes BEFORE UPDATE OR DELETE ON carriage_share
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- What the supplier gives back for what went back to them.
CREATE TABLE supplier_credit (
  move_id      uuid PRIMARY KEY REFERENCES stock_move,
  amount_minor integer NOT NULL CHECK (amount_minor >= 0)
);
CREATE TRIGGER supplier_credit_never_changes BEFORE UPDATE OR DELETE ON supplier_credit
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- Reclaimed clay has a cost though nobody supplied it; only what was found has none. The new words are compared as text, since an
-- enumeration's new values can't be used in the transaction that adds them.
ALTER TABLE lot DROP CONSTRAINT lot_check;
ALTER TABLE stock_move
  DROP CONSTRAINT stock_move_quantity_check,
  DROP CONSTRAINT stock_move_check2,
  DROP CONSTRAINT stock_move_check3,
  ADD CHECK (kind <> 'found' OR cost_minor = 0),
  ADD CHECK ((kind::text = 'carriage') = (quantity = 0)),
  ADD CHECK (kind::text = 'carriage' OR (kind::text IN ('received', 'found', 'reclaimed')) = (quantity > 0)),
  ADD CHECK (kind::text = 'carriage' OR sign(cost_minor) IN (0, sign(quantity)));

CREATE OR REPLACE FUNCTION lot_holds() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  had lot%ROWTYPE;
  cost bigint;
  left_over bigint;
  worth bigint;
BEGIN
  SELECT * INTO had FROM lot WHERE id = NEW.lot_id FOR UPDATE;
  SELECT had.cost_minor + coalesce(sum(amount_minor), 0) INTO cost FROM carriage_share WHERE lot_id = NEW.lot_id;
  SELECT sum(quantity), sum(cost_minor) INTO left_over, worth FROM stock_move WHERE lot_id = NEW.lot_id;
  IF left_over < 0 OR left_over > had.quantity OR worth < 0 OR worth > cost OR (left_over = 0 AND worth <> 0) THEN
    RAISE EXCEPTION 'lot % would hold % worth %', NEW.lot_id, left_over, worth USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
