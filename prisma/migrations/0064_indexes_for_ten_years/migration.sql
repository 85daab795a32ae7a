-- What is asked for by something that grows with the years.
CREATE INDEX firing_latest_idx ON firing (kiln_id, started_at, id) WHERE state IN ('unloaded', 'settled');
CREATE INDEX share_piece_id_idx ON share (piece_id);
CREATE INDEX posting_person_id_idx ON posting (person_id);
