-- Who a studio legally is, for its papers and letters; and how a name is spelt on paper, where the font lacks its letters.
ALTER TABLE studio
  ADD COLUMN legal_name     text CHECK (legal_name <> ''),
  ADD COLUMN legal_address  text CHECK (legal_address <> ''),
  ADD COLUMN company_number text CHECK (company_number <> ''),
  ADD COLUMN registered_in  text CHECK (registered_in <> ''),
  ADD CONSTRAINT studio_company_in_full CHECK ((company_number IS NULL) = (registered_in IS NULL)
    AND (company_number IS NULL OR legal_address IS NOT NULL));
ALTER TABLE person ADD COLUMN paper_name text CHECK (paper_name <> '');
