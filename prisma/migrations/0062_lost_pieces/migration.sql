-- How far a piece had got that was lost: the firing in which it broke, else the stage before. It is noted as it breaks, so that a price
-- counts the lost of ten years without reading the history of each. `check` looks it up there.
CREATE TYPE lost_at AS ENUM ('making', 'bisque', 'glaze', 'lustre');
ALTER TABLE piece ADD COLUMN lost_at lost_at;

CREATE FUNCTION where_lost(lost uuid, before piece_stage) RETURNS lost_at LANGUAGE sql STABLE AS $$
  SELECT coalesce(
    (SELECT s.kind::text FROM placement l JOIN firing f ON f.id = l.firing_id JOIN schedule s ON s.id = f.schedule_id
      WHERE l.piece_id = lost AND l.outcome = 'broken' ORDER BY f.number LIMIT 1),
    CASE WHEN before IN ('greenware', 'dry') THEN 'making' WHEN before = 'bisque' THEN 'bisque' ELSE 'glaze' END)::lost_at $$;

CREATE FUNCTION last_stage_whole(lost uuid) RETURNS piece_stage LANGUAGE sql STABLE AS $$
  SELECT stage FROM piece_event WHERE piece_id = lost AND stage <> 'broken' ORDER BY id DESC LIMIT 1 $$;

ALTER TABLE piece DISABLE TRIGGER USER;
UPDATE piece SET lost_at = where_lost(id, last_stage_whole(id)) WHERE stage = 'broken';
ALTER TABLE piece ENABLE TRIGGER USER;

CREATE FUNCTION keep_where_lost() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.lost_at := where_lost(NEW.id, OLD.stage);
  RETURN NEW;
END $$;
CREATE TRIGGER piece_is_lost BEFORE UPDATE OF stage ON piece
  FOR EACH ROW WHEN (NEW.stage = 'broken' AND OLD.stage <> 'broken') EXECUTE FUNCTION keep_where_lost();
ALTER TABLE piece ADD CONSTRAINT piece_lost_at_check CHECK ((lost_at IS NOT NULL) = (stage = 'broken'));

CREATE INDEX piece_lost_idx ON piece (lost_at) WHERE lost_at IS NOT NULL AND course_id IS NOT NULL;
