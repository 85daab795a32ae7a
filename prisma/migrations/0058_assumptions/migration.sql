-- Usual figures that an owner took over for now. They are shown wherever they are used, until somebody says better or confirms them.
CREATE TYPE assumption_kind AS ENUM ('room', 'kiln', 'schedule', 'tax', 'refundPolicy', 'tariff', 'material', 'lot');

CREATE TABLE assumption (
  subject_id uuid PRIMARY KEY, -- of the row that holds the figures, in the table that its kind names
  kind       assumption_kind NOT NULL,
  figures    text[] NOT NULL CHECK (cardinality(figures) > 0),
  noted_at   timestamptz(3) NOT NULL
);

-- Whoever changes the row knows better: the note goes with the old figures, whichever way the change came.
CREATE FUNCTION end_assumption() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM assumption WHERE subject_id = NEW.id;
  RETURN NULL;
END $$;
CREATE TRIGGER room_is_known AFTER UPDATE ON room FOR EACH ROW EXECUTE FUNCTION end_assumption();
CREATE TRIGGER kiln_is_known AFTER UPDATE ON kiln FOR EACH ROW EXECUTE FUNCTION end_assumption();
CREATE TRIGGER schedule_is_known AFTER UPDATE ON schedule FOR EACH ROW EXECUTE FUNCTION end_assumption();
CREATE TRIGGER refund_policy_is_known AFTER UPDATE ON refund_policy FOR EACH ROW EXECUTE FUNCTION end_assumption();
CREATE TRIGGER tariff_is_known AFTER UPDATE ON tariff FOR EACH ROW EXECUTE FUNCTION end_assumption();
CREATE TRIGGER material_is_known AFTER UPDATE ON material FOR EACH ROW
  WHEN (OLD.* IS DISTINCT FROM NEW.*) EXECUTE FUNCTION end_assumption();

CREATE FUNCTION end_tax_assumption() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM assumption WHERE kind = 'tax';
  RETURN NULL;
END $$;
CREATE TRIGGER tax_is_known AFTER UPDATE ON studio FOR EACH ROW
  WHEN (OLD.vat_number IS DISTINCT FROM NEW.vat_number OR OLD.firing_tax_rate_id IS DISTINCT FROM NEW.firing_tax_rate_id)
  EXECUTE FUNCTION end_tax_assumption();

-- A lot never changes; what the material costs is known once somebody has bought another.
CREATE FUNCTION end_lot_assumption() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  DELETE FROM assumption a USING lot l
    WHERE a.subject_id = l.id AND l.material_id = NEW.material_id AND l.id <> NEW.id;
  RETURN NULL;
END $$;
CREATE TRIGGER lot_price_is_known AFTER INSERT ON lot FOR EACH ROW
  WHEN (NEW.supplier IS NOT NULL) EXECUTE FUNCTION end_lot_assumption();
