-- What a litre of a batch weighed when somebody weighed it; none: nobody did.
ALTER TABLE mix_batch ADD measured_litre_grams integer CHECK (measured_litre_grams BETWEEN 1001 AND 4000);
