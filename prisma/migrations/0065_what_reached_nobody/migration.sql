-- Messages that reached nobody are few of all that were sent; the day asks for those of the last weeks.
CREATE INDEX delivery_unreached_idx ON delivery (at) WHERE outcome IN ('failed', 'noAddress');
