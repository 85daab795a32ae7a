ALTER TYPE move_kind ADD VALUE 'unmixed';

CREATE TYPE mix_weights AS ENUM ('dry', 'wet');

-- A material that the studio mixes itself. How, is told by the latest of its versions.
CREATE TABLE mix (
  id         uuid PRIMARY KEY,
  product_id uuid NOT NULL UNIQUE REFERENCES material
);
CREATE TRIGGER mix_never_changes BEFORE UPDATE OR DELETE ON mix
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

CREATE TABLE mix_version (
  id             uuid PRIMARY KEY,
  mix_id         uuid NOT NULL REFERENCES mix,
  number         integer NOT NULL CHECK (number > 0),
  weights        mix_weights NOT NULL,
  in_percent     boolean NOT NULL,
  litre_grams    integer CHECK (litre_grams BETWEEN 1001 AND 4000), -- none: a powder, a paste, or as the product's ml say
  solids_density numeric(5, 3) CHECK (solids_density BETWEEN 1.1 AND 10), -- none: not measured
  note           text NOT NULL,
  created_at     timestamptz(3) NOT NULL,
  UNIQUE (mix_id, number)
);
CREATE TRIGGER mix_version_never_changes BEFORE UPDATE OR DELETE ON mix_version
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

CREATE TABLE mix_part (
  version_id  uuid NOT NULL REFERENCES mix_version,
  material_id uuid NOT NULL REFERENCES material,
  ordinal     integer NOT NULL CHECK (ordinal > 0),
  share       numeric(11, 4) NOT NULL CHECK (share > 0),
  PRIMARY KEY (version_id, material_id),
  UNIQUE (version_id, ordinal)
);
CREATE INDEX mix_part_material_id_idx ON mix_part (material_id);
CREATE TRIGGER mix_part_never_changes BEFORE UPDATE OR DELETE ON mix_part
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- What was mixed at once, by which version: a lot of the product.
CREATE TABLE mix_batch (
  id           uuid PRIMARY KEY,
  number       integer NOT NULL UNIQUE CHECK (number > 0), -- stands on the bucket
  version_id   uuid NOT NULL REFERENCES mix_version,
  lot_id       uuid NOT NULL UNIQUE REFERENCES lot,
  make_grams   integer NOT NULL CHECK (make_grams > 0),
  add_water_ml integer NOT NULL CHECK (add_water_ml >= 0),
  litre_grams  integer CHECK (litre_grams > 1000),
  made_on      date NOT NULL,
  note         text NOT NULL,
  created_at   timestamptz(3) NOT NULL
);
CREATE INDEX mix_batch_version_id_idx ON mix_batch (version_id);
CREATE TRIGGER mix_batch_never_changes BEFORE UPDATE OR DELETE ON mix_batch
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

CREATE TABLE mix_batch_part (
  batch_id    uuid NOT NULL REFERENCES mix_batch,
  material_id uuid NOT NULL REFERENCES material,
  ordinal     integer NOT NULL CHECK (ordinal > 0),
  weigh_grams integer NOT NULL CHECK (weigh_grams > 0),
  quantity    integer NOT NULL CHECK (quantity > 0),
  PRIMARY KEY (batch_id, material_id),
  UNIQUE (batch_id, ordinal)
);
CREATE INDEX mix_batch_part_material_id_idx ON mix_batch_part (material_id);
CREATE TRIGGER mix_batch_part_never_changes BEFORE UPDATE OR DELETE ON mix_batch_part
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- What a batch drew from the shelf.
CREATE TABLE mix_draw (
  move_id  uuid PRIMARY KEY REFERENCES stock_move,
  batch_id uuid NOT NULL REFERENCES mix_batch
);
CREATE INDEX mix_draw_batch_id_idx ON mix_draw (batch_id);
CREATE TRIGGER mix_draw_never_changes BEFORE UPDATE OR DELETE ON mix_draw
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- A batch that was entered by mistake: its lot left the shelf, and what it drew came back as lots of their own.
CREATE TABLE mix_undoing (
  batch_id uuid PRIMARY KEY REFERENCES mix_batch,
  note     text NOT NULL,
  at       timestamptz(3) NOT NULL
);
CREATE TRIGGER mix_undoing_never_changes BEFORE UPDATE OR DELETE ON mix_undoing
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- A mix moves stock both ways when it is taken back. As text, since the new word can't be used in the transaction that adds it.
ALTER TABLE stock_move
  DROP CONSTRAINT stock_move_check4,
  ADD CONSTRAINT stock_move_direction CHECK (
    kind::text IN ('carriage', 'unmixed') OR (kind::text IN ('received', 'found', 'reclaimed')) = (quantity > 0));

-- A batch's lot costs exactly what the batch drew, and holds its mix's product.
CREATE FUNCTION mix_batch_costs_its_draws() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  batch uuid := CASE TG_TABLE_NAME WHEN 'mix_batch' THEN to_jsonb(NEW) ->> 'id' ELSE to_jsonb(NEW) ->> 'batch_id' END;
  lot_cost bigint;
  drawn bigint;
  is_product boolean;
BEGIN
  SELECT l.cost_minor, l.material_id = m.product_id INTO lot_cost, is_product
    FROM mix_batch b JOIN lot l ON l.id = b.lot_id JOIN mix_version v ON v.id = b.version_id JOIN mix m ON m.id = v.mix_id
   WHERE b.id = batch;
  SELECT coalesce(-sum(s.cost_minor), 0) INTO drawn
    FROM mix_draw d JOIN stock_move s ON s.id = d.move_id WHERE d.batch_id = batch;
  IF lot_cost <> drawn OR NOT is_product THEN
    RAISE EXCEPTION 'batch % costs % and drew %', batch, lot_cost, drawn USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER mix_batch_costs_its_draws AFTER INSERT ON mix_batch
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION mix_batch_costs_its_draws();
CREATE CONSTRAINT TRIGGER mix_draw_costs_its_batch AFTER INSERT ON mix_draw
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION mix_batch_costs_its_draws();

-- Mixes are nested at most once, which also keeps them from going in circles: by their latest versions, no part of a mix is the
-- product of one that has such a part itself.
CREATE FUNCTION mix_nested_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    WITH latest AS (SELECT DISTINCT ON (mix_id) id, mix_id FROM mix_version ORDER BY mix_id, number DESC),
         inside AS (SELECT l.mix_id AS outer_id, m.id AS inner_id
                      FROM latest l JOIN mix_part p ON p.version_id = l.id JOIN mix m ON m.product_id = p.material_id)
    SELECT 1 FROM inside a JOIN inside b ON b.outer_id = a.inner_id) THEN
    RAISE EXCEPTION 'mix % is nested more than once', NEW.mix_id USING ERRCODE = '23514';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER mix_nested_once AFTER INSERT ON mix_version
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION mix_nested_once();

CREATE TYPE glaze_way AS ENUM ('brushed', 'dipped', 'poured', 'sprayed');
CREATE TYPE tile_run AS ENUM ('stayed', 'moved', 'ranOff');

-- A record of a piece of fired clay that hangs on a nail: whoever holds it may look again and write down more.
CREATE TABLE test_tile (
  id          uuid PRIMARY KEY,
  number      integer NOT NULL UNIQUE CHECK (number > 0), -- scratched into its back
  name        text NOT NULL CHECK (name <> ''),
  body_id     uuid NOT NULL REFERENCES material,
  kiln_id     uuid REFERENCES kiln,
  schedule_id uuid REFERENCES schedule,
  cone        text CHECK (cone <> ''), -- reached, by the witness
  fired_on    date,
  colour      text NOT NULL,
  surface     text NOT NULL,
  run         tile_run, -- none: not fired, or nobody looked
  defects     text NOT NULL,
  notes       text NOT NULL,
  CHECK (fired_on IS NOT NULL OR (cone IS NULL AND run IS NULL))
);
CREATE INDEX test_tile_body_id_idx ON test_tile (body_id);
CREATE INDEX test_tile_kiln_id_idx ON test_tile (kiln_id);
CREATE INDEX test_tile_schedule_id_idx ON test_tile (schedule_id);

CREATE TABLE test_tile_layer (
  tile_id     uuid NOT NULL REFERENCES test_tile,
  ordinal     integer NOT NULL CHECK (ordinal > 0), -- the first lies on the clay
  material_id uuid NOT NULL REFERENCES material,
  coats       integer NOT NULL CHECK (coats BETWEEN 1 AND 20),
  way         glaze_way NOT NULL,
  PRIMARY KEY (tile_id, ordinal)
);
CREATE INDEX test_tile_layer_material_id_idx ON test_tile_layer (material_id);

CREATE TABLE test_tile_photo (
  id         uuid PRIMARY KEY,
  tile_id    uuid NOT NULL REFERENCES test_tile,
  media_type text NOT NULL CHECK (media_type IN ('image/jpeg', 'image/png', 'image/webp')),
  image      bytea NOT NULL CHECK (length(image) BETWEEN 1 AND 5000000),
  added_at   timestamptz(3) NOT NULL
);
CREATE INDEX test_tile_photo_tile_id_idx ON test_tile_photo (tile_id);
CREATE TRIGGER test_tile_photo_never_changes BEFORE UPDATE OR DELETE ON test_tile_photo
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

-- What a plan's piece shall look like.
ALTER TABLE plan_piece ADD tile_id uuid REFERENCES test_tile;
CREATE INDEX plan_piece_tile_id_idx ON plan_piece (tile_id);
