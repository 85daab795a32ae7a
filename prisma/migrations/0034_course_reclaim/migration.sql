-- What a course gave back to the shelf: a lot that costs what the course was relieved of.
CREATE TABLE course_reclaim (
  lot_id    uuid PRIMARY KEY REFERENCES lot,
  course_id uuid NOT NULL REFERENCES course
);
CREATE INDEX course_reclaim_course_id_idx ON course_reclaim (course_id);
CREATE TRIGGER course_reclaim_never_changes BEFORE UPDATE OR DELETE ON course_reclaim
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

-- No more comes back of a material than its course drew, and none of it dearer. The material's row is locked, as it is for a draw.
CREATE FUNCTION course_reclaim_was_drawn() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  of_material uuid;
  back record;
  drawn record;
BEGIN
  SELECT material_id INTO of_material FROM lot WHERE id = NEW.lot_id;
  PERFORM 1 FROM material WHERE id = of_material FOR UPDATE;
  IF NOT EXISTS (SELECT 1 FROM stock_move WHERE lot_id = NEW.lot_id AND kind = 'reclaimed') THEN
    RAISE EXCEPTION 'lot % was not reclaimed', NEW.lot_id USING ERRCODE = 'WB006';
  END IF;
  SELECT coalesce(sum(l.quantity), 0) AS quantity, coalesce(sum(l.cost_minor), 0) AS cost_minor INTO back
    FROM course_reclaim r JOIN lot l ON l.id = r.lot_id WHERE r.course_id = NEW.course_id AND l.material_id = of_material;
  SELECT coalesce(-sum(m.quantity), 0) AS quantity, coalesce(-sum(m.cost_minor), 0) AS cost_minor INTO drawn
    FROM course_draw d JOIN stock_move m ON m.id = d.stock_move_id WHERE d.course_id = NEW.course_id AND m.material_id = of_material;
  IF back.quantity > drawn.quantity OR back.cost_minor > drawn.cost_minor THEN
    RAISE EXCEPTION 'course % drew % of material % and gave % back', NEW.course_id, drawn.quantity, of_material, back.quantity
      USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER course_reclaim_was_drawn AFTER INSERT ON course_reclaim
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION course_reclaim_was_drawn();
