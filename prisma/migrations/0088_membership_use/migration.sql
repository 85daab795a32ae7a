-- What of what a membership includes was used, in which of its months. The charge of it is credited by as much.

-- Minutes at a bench of open studio. They count while the booking and the session do; a place that is cancelled takes them along.
CREATE TABLE membership_visit (
  place_id       uuid NOT NULL REFERENCES place ON DELETE CASCADE,
  session_id     uuid NOT NULL REFERENCES session,
  membership_id  uuid NOT NULL REFERENCES membership,
  month          date NOT NULL CHECK (extract(day FROM month) = 1 AND month BETWEEN '1900-01-01' AND '2199-12-31'),
  minutes        integer NOT NULL CHECK (minutes > 0),
  included_minor integer NOT NULL CHECK (included_minor >= 0), -- of the price of the place
  PRIMARY KEY (place_id, session_id)
);
CREATE INDEX membership_visit_session_id_idx ON membership_visit (session_id);
CREATE INDEX membership_visit_membership_id_month_idx ON membership_visit (membership_id, month);

-- Room in the kiln, of the bill of a firing.
CREATE TABLE membership_firing (
  charge_id     uuid PRIMARY KEY REFERENCES charge,
  membership_id uuid NOT NULL REFERENCES membership,
  month         date NOT NULL CHECK (extract(day FROM month) = 1 AND month BETWEEN '1900-01-01' AND '2199-12-31'),
  mm3           bigint NOT NULL CHECK (mm3 > 0),
  billed_mm3    bigint NOT NULL CHECK (billed_mm3 >= mm3), -- of all that the bill is for
  credit_id     uuid NOT NULL UNIQUE REFERENCES credit
);
CREATE INDEX membership_firing_membership_id_month_idx ON membership_firing (membership_id, month);

-- Clay that was sold. Of a sale that is partly taken back what is beyond comes back first.
CREATE TABLE membership_clay (
  sale_id       uuid PRIMARY KEY REFERENCES sale,
  membership_id uuid NOT NULL REFERENCES membership,
  month         date NOT NULL CHECK (extract(day FROM month) = 1 AND month BETWEEN '1900-01-01' AND '2199-12-31'),
  grams         integer NOT NULL CHECK (grams > 0),
  credit_id     uuid UNIQUE REFERENCES credit -- none where so little costs nothing, once rounded
);
CREATE INDEX membership_clay_membership_id_month_idx ON membership_clay (membership_id, month);

CREATE TRIGGER membership_visit_never_changes BEFORE UPDATE ON membership_visit FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');
CREATE TRIGGER membership_firing_never_changes BEFORE UPDATE OR DELETE ON membership_firing
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');
CREATE TRIGGER membership_clay_never_changes BEFORE UPDATE OR DELETE ON membership_clay
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB030');

CREATE FUNCTION used_bench_minutes(of_membership uuid, of_month date, but_booking uuid DEFAULT NULL) RETURNS bigint LANGUAGE sql STABLE AS $$
  SELECT coalesce(sum(v.minutes), 0) FROM membership_visit v JOIN place p ON p.id = v.place_id
    JOIN booking b ON b.id = p.booking_id JOIN session s ON s.id = v.session_id
   WHERE v.membership_id = of_membership AND v.month = of_month AND b.cancelled_at IS NULL AND s.cancelled_at IS NULL
     AND b.id IS DISTINCT FROM but_booking
$$;
CREATE FUNCTION used_firing_mm3(of_membership uuid, of_month date) RETURNS numeric LANGUAGE sql STABLE AS $$
  SELECT coalesce(sum(mm3), 0) FROM membership_firing WHERE membership_id = of_membership AND month = of_month
$$;
CREATE FUNCTION used_clay_grams(of_membership uuid, of_month date) RETURNS bigint LANGUAGE sql STABLE AS $$
  SELECT coalesce(sum(least(u.grams, s.quantity - (SELECT coalesce(sum(t.quantity), 0) FROM taking_back t WHERE t.sale_id = s.id))), 0)
    FROM membership_clay u JOIN sale s ON s.id = u.sale_id WHERE u.membership_id = of_membership AND u.month = of_month
$$;

-- The second wall behind memberships/use: no more is used than a month includes. Of two at once the later one counts both, since each
-- waits for the membership's row.
CREATE FUNCTION membership_use_fits() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  fits boolean;
BEGIN
  PERFORM 1 FROM membership WHERE id = NEW.membership_id FOR NO KEY UPDATE;
  SELECT m.withdrawn_at IS NULL AND CASE TG_TABLE_NAME
           WHEN 'membership_visit' THEN used_bench_minutes(m.id, NEW.month) <= m.bench_minutes
           WHEN 'membership_firing' THEN used_firing_mm3(m.id, NEW.month) <= m.firing_litres * 1000000
           ELSE used_clay_grams(m.id, NEW.month) <= m.clay_grams END
    INTO fits FROM membership m WHERE m.id = NEW.membership_id;
  IF NOT coalesce(fits, false) THEN
    RAISE EXCEPTION 'membership %: more is used in % than it includes', NEW.membership_id, NEW.month USING ERRCODE = 'WB030';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER membership_visit_fits AFTER INSERT ON membership_visit
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_use_fits();
CREATE CONSTRAINT TRIGGER membership_firing_fits AFTER INSERT ON membership_firing
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_use_fits();
CREATE CONSTRAINT TRIGGER membership_clay_fits AFTER INSERT ON membership_clay
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION membership_use_fits();

-- As in 0024, less what a membership includes of what is kept.
CREATE OR REPLACE FUNCTION sale_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  of_sale uuid := CASE TG_TABLE_NAME WHEN 'sale' THEN to_jsonb(NEW) ->> 'id' ELSE to_jsonb(NEW) ->> 'sale_id' END;
  said sale%ROWTYPE;
  base integer;
  gone bigint;
  back bigint;
  included integer;
BEGIN
  SELECT * INTO said FROM sale WHERE id = of_sale FOR UPDATE;
  SELECT CASE unit WHEN 'piece' THEN 1 ELSE 1000 END INTO base FROM material WHERE id = said.material_id;
  SELECT coalesce(-sum(m.quantity) FILTER (WHERE x.taking_back_id IS NULL), 0),
         coalesce(sum(m.quantity) FILTER (WHERE x.taking_back_id IS NOT NULL), 0) INTO gone, back
    FROM sale_move x JOIN stock_move m ON m.id = x.move_id WHERE x.sale_id = of_sale;
  SELECT coalesce((SELECT grams FROM membership_clay WHERE sale_id = of_sale), 0) INTO included;
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
                        = round(said.price_minor::numeric * greatest(0, said.quantity - back - included) / base)) THEN
    RAISE EXCEPTION 'sale %: its charge asks for something else', of_sale USING ERRCODE = 'WB004';
  END IF;
  RETURN NULL;
END $$;
