ALTER TYPE empty_space ADD VALUE 'usual'; -- pieces pay as if the kiln had been as full as it usually is; the studio bears the rest

-- By what a firing was shared out, as it was known on the day: both may be others by now.
ALTER TABLE firing
  ADD usual_fill_percent numeric(6, 3) CHECK (usual_fill_percent > 0 AND usual_fill_percent <= 100),
  ADD empty_space empty_space,
  ADD CONSTRAINT firing_shared_by_check CHECK ((usual_fill_percent IS NULL) = (empty_space IS NULL));
