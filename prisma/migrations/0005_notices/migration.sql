CREATE TYPE document_kind AS ENUM ('receipt', 'creditNote', 'collectionNotice');
CREATE TYPE notice_occasion AS ENUM ('booking', 'receipt', 'refund', 'collection');
CREATE TYPE delivery_outcome AS ENUM ('sent', 'written', 'failed', 'noAddress');

-- What a paper says, frozen when it was issued.
CREATE TABLE document (
  id         uuid PRIMARY KEY,
  kind       document_kind NOT NULL,
  file_name  text NOT NULL UNIQUE CHECK (file_name ~ '^[a-z0-9-]+\.pdf$'),
  content    jsonb NOT NULL,
  created_at timestamptz(3) NOT NULL
);
CREATE TRIGGER document_never_changes BEFORE UPDATE OR DELETE ON document
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

-- The first rendering is what is shown for ever, whatever later versions of the program would draw.
CREATE TABLE rendering (
  document_id uuid PRIMARY KEY REFERENCES document,
  sha256      text NOT NULL CHECK (sha256 = encode(sha256(pdf), 'hex')),
  pdf         bytea NOT NULL,
  created_at  timestamptz(3) NOT NULL
);
CREATE TRIGGER rendering_never_changes BEFORE UPDATE OR DELETE ON rendering
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB005');

-- Written in the transaction of what it speaks of; a job delivers it afterwards, always under the same Message-ID.
CREATE TABLE notice (
  id          uuid PRIMARY KEY,
  person_id   uuid NOT NULL REFERENCES person,
  occasion    notice_occasion NOT NULL,
  data        jsonb NOT NULL,
  document_id uuid REFERENCES document,
  message_id  text NOT NULL UNIQUE,
  created_at  timestamptz(3) NOT NULL
);
CREATE INDEX notice_person_id_idx ON notice (person_id);
CREATE TRIGGER notice_never_changes BEFORE UPDATE OR DELETE ON notice
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB009');

CREATE TABLE delivery (
  id        uuid PRIMARY KEY,
  notice_id uuid NOT NULL REFERENCES notice,
  at        timestamptz(3) NOT NULL,
  outcome   delivery_outcome NOT NULL,
  detail    text NOT NULL
);
CREATE INDEX delivery_notice_id_idx ON delivery (notice_id);
