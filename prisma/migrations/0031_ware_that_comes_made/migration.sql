-- Ware of a course that nobody makes on it: pieces that come bisqued or fired, without clay, and room for what students bring.
CREATE TYPE comes_as AS ENUM ('bisque', 'fired');

ALTER TABLE plan_piece
  ADD comes_as comes_as, -- NULL: made on the course
  ALTER clay_id DROP NOT NULL,
  ALTER wet_mass_grams DROP NOT NULL,
  ADD CONSTRAINT plan_piece_made_check CHECK ((comes_as IS NULL) = (clay_id IS NOT NULL)),
  ADD CONSTRAINT plan_piece_mass_check CHECK ((comes_as IS NULL) = (wet_mass_grams IS NOT NULL));

ALTER TABLE course_plan ADD brought_litres numeric(8, 2) CHECK (brought_litres > 0); -- of kiln room per student; NULL: nothing is brought
