-- What a course's price was computed from, and what came out.
CREATE TABLE price_quote (
  id          uuid PRIMARY KEY,
  course_id   uuid NOT NULL REFERENCES course,
  inputs      jsonb NOT NULL,
  result      jsonb NOT NULL,
  computed_at timestamptz(3) NOT NULL
);
CREATE INDEX price_quote_course_id_idx ON price_quote (course_id, computed_at);
CREATE TRIGGER price_quote_never_changes BEFORE UPDATE OR DELETE ON price_quote
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB001');
