ALTER TYPE move_kind ADD VALUE 'sold';
ALTER TYPE move_kind ADD VALUE 'takenBack';
ALTER TYPE charge_kind ADD VALUE 'material';

INSERT INTO account VALUES ('material-income', 'Materials sold', 'income');

-- What a student pays for a kilogram, a litre or a piece, VAT inside, and how it is taxed. What is missing, each sale must say.
CREATE TABLE selling_price (
  material_id uuid PRIMARY KEY REFERENCES material,
  price_minor integer CHECK (price_minor > 0),
  tax_rate_id uuid REFERENCES tax_rate
);
CREATE INDEX selling_price_tax_rate_id_idx ON selling_price (tax_rate_id);

-- What is taken back comes in again. The new words are compared as text, since they can't be used in the transaction that adds them.
ALTER TABLE stock_move
  DROP CONSTRAINT stock_move_direction,
  ADD CONSTRAINT stock_move_direction CHECK (
    kind::text IN ('carriage', 'unmixed')
    OR (kind::text IN ('received', 'found', 'reclaimed', 'takenBack')) = (quantity > 0));
ALTER TABLE charge ADD CONSTRAINT charge_material_is_supplied CHECK (kind::text <> 'material' OR NOT in_advance);

-- Material that somebody took home. Who, is told by the charge.
CREATE TABLE sale (
  id          uuid PRIMARY KEY,
  charge_id   uuid NOT NULL UNIQUE REFERENCES charge,
  material_id uuid NOT NULL REFERENCES material,
  quantity    integer NOT NULL CHECK (quantity > 0),
  price_minor integer NOT NULL CHECK (price_minor > 0), -- for a kilogram, a litre or a piece
  note        text NOT NULL,
  at          timestamptz(3) NOT NULL
);
CREATE INDEX sale_material_id_idx ON sale (material_id);
CREATE TRIGGER sale_never_changes BEFORE UPDATE OR DELETE ON sale
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- All or a part of a sale that came back.
CREATE TABLE taking_back (
  id        uuid PRIMARY KEY,
  sale_id   uuid NOT NULL REFERENCES sale,
  quantity  integer NOT NULL CHECK (quantity > 0),
  credit_id uuid UNIQUE REFERENCES credit, -- none where what is kept costs as much, once rounded
  reason    text NOT NULL CHECK (reason <> ''),
  at        timestamptz(3) NOT NULL,
  UNIQUE (id, sale_id)
);
CREATE INDEX taking_back_sale_id_idx ON taking_back (sale_id);
CREATE TRIGGER taking_back_never_changes BEFORE UPDATE OR DELETE ON taking_back
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- The moves of a sale: what it took, and with a taking_back what came in again, into the lots that it was of.
CREATE TABLE sale_move (
  move_id        uuid PRIMARY KEY REFERENCES stock_move,
  sale_id        uuid NOT NULL REFERENCES sale,
  taking_back_id uuid,
  FOREIGN KEY (taking_back_id, sale_id) REFERENCES taking_back (id, sale_id)
);
CREATE INDEX sale_move_sale_id_idx ON sale_move (sale_id);
CREATE INDEX sale_move_taking_back_id_idx ON sale_move (taking_back_id);
CREATE TRIGGER sale_move_never_changes BEFORE UPDATE OR DELETE ON sale_move
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- A sale and each taking-back is what its moves say, of one material, and of no lot comes back more than went, in quantity or cost.
-- Its charge asks for its quantity at its price, rounded once, and is credited down to what was kept.
CREATE FUNCTION sale_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  of_sale uuid := CASE TG_TABLE_NAME WHEN 'sale' THEN to_jsonb(NEW) ->> 'id' ELSE to_jsonb(NEW) ->> 'sale_id' END;
  said sale%ROWTYPE;
  base integer;
  gone bigint;
  back bigint;
BEGIN
  SELECT * INTO said FROM sale WHERE id = of_sale FOR UPDATE;
  SELECT CASE unit WHEN 'piece' THEN 1 ELSE 1000 END INTO base FROM material WHERE id = said.material_id;
  SELECT coalesce(-sum(m.quantity) FILTER (WHERE x.taking_back_id IS NULL), 0),
         coalesce(sum(m.quantity) FILTER (WHERE x.taking_back_id IS NOT NULL), 0) INTO gone, back
    FROM sale_move x JOIN stock_move m ON m.id = x.move_id WHERE x.sale_id = of_sale;
  IF gone <> said.quantity
    OR EXISTS (SELECT 1 FROM sale_move x JOIN stock_move m ON m.id = x.move_id WHERE x.sale_id = of_sale
                 AND (m.material_id <> said.material_id
                      OR m.kind::text <> CASE WHEN x.taking_back_id IS NULL THEN 'sold' ELSE 'takenBack' END))
    OR EXISTS (SELECT 1 FROM sale_move x JOIN stock_move m ON m.id = x.move_id WHERE x.sale_id = of_sale
                GROUP BY m.lot_id HAVING sum(m.quantity) > 0 OR sum(m.cost_minor) > 0)
    OR EXISTS (SELECT 1 FROM taking_back t WHERE t.sale_id = of_sale AND t.quantity <> (
                 SELECT coalesce(sum(m.quantity), 0) FROM sale_move x JOIN stock_move m ON m.id = x.move_id WHERE x.taking_back_id = t.id)) THEN
    RAISE EXCEPTION 'sale % of %: its moves took % and brought back %', of_sale, said.quantity, gone, back USING ERRCODE = 'WB006';
  END IF;
  IF NOT EXISTS (SELECT 1 FROM charge c WHERE c.id = said.charge_id AND c.kind::text = 'material'
                    AND c.gross_minor = round(said.price_minor::numeric * said.quantity / base)
                    AND c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id)
                        = round(said.price_minor::numeric * (said.quantity - back) / base)) THEN
    RAISE EXCEPTION 'sale %: its charge asks for something else', of_sale USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER sale_adds_up AFTER INSERT ON sale
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION sale_adds_up();
CREATE CONSTRAINT TRIGGER taking_back_adds_up AFTER INSERT ON taking_back
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION sale_adds_up();
CREATE CONSTRAINT TRIGGER sale_move_adds_up AFTER INSERT ON sale_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION sale_adds_up();

-- Nothing is sold or taken back, and nothing charged as material, but by a sale.
CREATE FUNCTION belongs_to_a_sale() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM sale_move WHERE move_id = NEW.id) AND NOT EXISTS (SELECT 1 FROM sale WHERE charge_id = NEW.id) THEN
    RAISE EXCEPTION '% % belongs to no sale', TG_TABLE_NAME, NEW.id USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER sold_by_a_sale AFTER INSERT ON stock_move
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.kind::text IN ('sold', 'takenBack')) EXECUTE FUNCTION belongs_to_a_sale();
CREATE CONSTRAINT TRIGGER charged_by_a_sale AFTER INSERT ON charge
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW WHEN (NEW.kind::text = 'material') EXECUTE FUNCTION belongs_to_a_sale();
