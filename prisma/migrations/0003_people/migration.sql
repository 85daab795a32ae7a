CREATE TABLE person (
  id            uuid PRIMARY KEY,
  name          text NOT NULL CHECK (name <> ''),
  email         text CHECK (email <> ''),
  phone         text CHECK (phone <> ''),
  address_lines text[] NOT NULL,
  created_at    timestamptz(3) NOT NULL
);
CREATE INDEX person_name_idx ON person (name, id);
