-- What a receipt says of a charge beside its sum: how many it is for, and what of a price whose parts are taxed differently is none of them.
ALTER TABLE charge ADD COLUMN quantity integer NOT NULL DEFAULT 1 CHECK (quantity >= 1);
ALTER TABLE charge ALTER COLUMN quantity DROP DEFAULT;
ALTER TABLE charge ADD COLUMN rest_label text CHECK (rest_label <> '');
ALTER TABLE course_plan ADD COLUMN rest_label text CHECK (rest_label <> '');
