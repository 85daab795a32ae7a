-- Lists are searched and sorted here, so that a page of ten thousand people costs what a page of ten does.
CREATE EXTENSION IF NOT EXISTS pg_trgm; -- trusted, as btree_gist: the owner of a database may add it

-- Words in small letters without accents, a space before each: "% du%" finds a word that begins so, "%uva%" what is inside one.
-- trade/text/search-text.ts does the same to what somebody types; tests/studio/people/search-text.test.ts holds the two together.
CREATE FUNCTION search_text(said text) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE
RETURN ' ' || btrim(regexp_replace(
  replace(replace(replace(replace(translate(lower(
    regexp_replace(normalize(said, NFKD), '[\u0300-\u036f''\u2018\u2019\u02bc]', '', 'g')),
    'øłđðıς', 'oldðiσ'), 'ð', 'd'), 'ß', 'ss'), 'æ', 'ae'), 'œ', 'oe'),
  '[\u0009-\u000d\u0020-\u002f\u003a-\u0040\u005b-\u0060\u007b-\u00bf\u2000-\u206f\u3000-\u3003]+', ' ', 'g'));

-- What a search looks in. A phone number is found with or without its spaces.
ALTER TABLE person
  ADD COLUMN search text GENERATED ALWAYS AS (
    search_text(name || ' ' || coalesce(paper_name, '') || ' ' || coalesce(email, '') || ' ' || coalesce(phone, ''))
    || ' ' || regexp_replace(coalesce(phone, ''), '[^0-9]', '', 'g')) STORED,
  ADD COLUMN name_key text COLLATE "C" GENERATED ALWAYS AS (search_text(name)) STORED;
ALTER TABLE course ADD COLUMN search text GENERATED ALWAYS AS (search_text(title)) STORED;
ALTER TABLE charge ADD COLUMN search text GENERATED ALWAYS AS (search_text(description)) STORED;
ALTER TABLE piece ADD COLUMN search text GENERATED ALWAYS AS (search_text(code || ' ' || description)) STORED;

CREATE INDEX person_search_idx ON person USING gin (search gin_trgm_ops);
CREATE INDEX person_name_key_idx ON person (name_key, id);
CREATE INDEX person_member_idx ON person (name_key, id) WHERE member_since IS NOT NULL;
DROP INDEX person_name_idx; -- nothing sorts by it
CREATE INDEX course_search_idx ON course USING gin (search gin_trgm_ops);
CREATE INDEX charge_search_idx ON charge USING gin (search gin_trgm_ops);
CREATE INDEX piece_search_idx ON piece USING gin (search gin_trgm_ops);

-- The orders in which lists run, each filter that may pick few of many with its own.
CREATE INDEX session_starts_at_idx ON session (starts_at);
CREATE INDEX session_first_idx ON session (starts_at, course_id) WHERE ordinal = 1;
CREATE INDEX session_ends_at_idx ON session (ends_at);
CREATE INDEX booking_booked_at_idx ON booking (booked_at, id);
CREATE INDEX booking_cancelled_idx ON booking (booked_at, id) WHERE cancelled_at IS NOT NULL;
CREATE INDEX piece_created_at_idx ON piece (created_at, id);
DROP INDEX piece_stage_idx;
CREATE INDEX piece_stage_idx ON piece (stage, created_at, id);
CREATE INDEX piece_form_idx ON piece (form, created_at, id);
CREATE INDEX piece_course_id_idx ON piece (course_id);
CREATE INDEX piece_here_idx ON piece (created_at, id) WHERE stage NOT IN ('collected', 'givenAway', 'reclaimed', 'broken');
CREATE INDEX firing_planned_from_idx ON firing (planned_from, id);
CREATE INDEX firing_state_idx ON firing (state, planned_from);
CREATE INDEX firing_schedule_id_idx ON firing (schedule_id);
CREATE INDEX document_created_at_idx ON document (created_at, id);
CREATE INDEX document_kind_idx ON document (kind, created_at, id);
CREATE INDEX notice_created_at_idx ON notice (created_at, id);
CREATE INDEX notice_occasion_idx ON notice (occasion, created_at, id);
CREATE INDEX notice_document_id_idx ON notice (document_id);
CREATE INDEX payment_received_on_idx ON payment (received_on, id);
CREATE INDEX payment_method_idx ON payment (method, received_on, id);
CREATE INDEX charge_charged_on_idx ON charge (charged_on, id);
CREATE INDEX charge_kind_idx ON charge (kind, charged_on, id);
