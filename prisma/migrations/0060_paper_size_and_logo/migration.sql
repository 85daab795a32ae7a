-- What papers look like: the sheet that a studio prints on, and its logo.
CREATE TYPE paper_size AS ENUM ('A4', 'LETTER');

-- A logo is known by its own bytes, so that a paper that names one can't come to show another.
CREATE TABLE logo (
  sha256     text PRIMARY KEY,
  media_type text NOT NULL CHECK (media_type IN ('image/png', 'image/jpeg')),
  image      bytea NOT NULL CHECK (length(image) BETWEEN 1 AND 500000),
  width_px   int NOT NULL CHECK (width_px BETWEEN 1 AND 1200),
  height_px  int NOT NULL CHECK (height_px BETWEEN 1 AND 1200),
  added_at   timestamptz(3) NOT NULL,
  CONSTRAINT logo_is_its_bytes CHECK (sha256 = encode(sha256(image), 'hex'))
);
CREATE TRIGGER logo_never_changes BEFORE UPDATE ON logo FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

ALTER TABLE studio
  ADD paper_size  paper_size NOT NULL DEFAULT 'A4',
  ADD logo_sha256 text REFERENCES logo;
CREATE INDEX studio_logo_sha256_idx ON studio (logo_sha256);

-- As long as a paper names a logo, it can be printed again with that one, whatever the studio shows by now.
ALTER TABLE document
  ADD logo_sha256 text GENERATED ALWAYS AS (content ->> 'logo') STORED REFERENCES logo;
CREATE INDEX document_logo_sha256_idx ON document (logo_sha256);
