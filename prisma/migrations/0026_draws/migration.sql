-- At which of its sessions a course drew it, where that was noted.
ALTER TABLE session ADD UNIQUE (id, course_id);
ALTER TABLE course_draw
  ADD session_id uuid,
  ADD FOREIGN KEY (session_id, course_id) REFERENCES session (id, course_id);
CREATE INDEX course_draw_session_id_idx ON course_draw (session_id);

-- What was drawn for one piece. Where the piece is of a course, its course drew it too.
CREATE TABLE piece_draw (
  stock_move_id uuid PRIMARY KEY REFERENCES stock_move,
  piece_id      uuid NOT NULL REFERENCES piece
);
CREATE INDEX piece_draw_piece_id_idx ON piece_draw (piece_id);
CREATE TRIGGER piece_draw_never_changes BEFORE UPDATE OR DELETE ON piece_draw
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB006');

CREATE FUNCTION piece_draws_for_its_course() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT course_id FROM piece WHERE id = NEW.piece_id)
     IS DISTINCT FROM (SELECT course_id FROM course_draw WHERE stock_move_id = NEW.stock_move_id) THEN
    RAISE EXCEPTION 'stock move % is for piece %, and not for its course', NEW.stock_move_id, NEW.piece_id USING ERRCODE = 'WB006';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER piece_draws_for_its_course AFTER INSERT ON piece_draw
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION piece_draws_for_its_course();
