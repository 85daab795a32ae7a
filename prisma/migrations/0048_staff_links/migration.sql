-- Staff are invited by a link and choose their own password. Somebody who is removed stays, so that what they did still has a name.
ALTER TABLE staff_member
  ALTER password_hash DROP NOT NULL, -- without one: invited, or removed
  ADD removed_at timestamptz(3),
  DROP CONSTRAINT staff_member_email_key,
  ADD CONSTRAINT staff_member_email_once EXCLUDE (email WITH =) WHERE (removed_at IS NULL),
  ADD CONSTRAINT staff_member_removed_for_good CHECK (removed_at IS NULL OR password_hash IS NULL);

CREATE TYPE staff_link_purpose AS ENUM ('invitation', 'password');

-- A link by which somebody sets their password, once. The letter holds the token, we hold its hash.
CREATE TABLE staff_link (
  id              uuid PRIMARY KEY,
  staff_member_id uuid NOT NULL REFERENCES staff_member,
  purpose         staff_link_purpose NOT NULL,
  token_hash      text NOT NULL UNIQUE,
  made_by_id      uuid REFERENCES staff_member, -- without one: by a command on the machine
  created_at      timestamptz(3) NOT NULL,
  expires_at      timestamptz(3) NOT NULL CHECK (expires_at > created_at),
  used_at         timestamptz(3),
  ended_at        timestamptz(3),
  mail_outcome    delivery_outcome, -- without one: waiting, or never to be sent
  mail_detail     text,
  mailed_at       timestamptz(3),
  CHECK (used_at IS NULL OR ended_at IS NULL),
  CHECK ((mail_outcome IS NULL) = (mailed_at IS NULL) AND (mail_outcome IS NULL) = (mail_detail IS NULL)),
  CONSTRAINT staff_link_once EXCLUDE (staff_member_id WITH =) WHERE (used_at IS NULL AND ended_at IS NULL)
);
CREATE INDEX staff_link_staff_member_id_idx ON staff_link (staff_member_id);

-- Two owners who remove each other at once would leave nobody who can let anybody in.
CREATE FUNCTION keep_an_owner() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM FROM staff_member
    WHERE role = 'owner' AND password_hash IS NOT NULL AND removed_at IS NULL ORDER BY id FOR NO KEY UPDATE;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'staff member % is the last owner', OLD.id USING ERRCODE = 'WB011';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER keep_an_owner AFTER UPDATE OR DELETE ON staff_member FOR EACH ROW
  WHEN (OLD.role = 'owner' AND OLD.password_hash IS NOT NULL AND OLD.removed_at IS NULL)
  EXECUTE FUNCTION keep_an_owner();
