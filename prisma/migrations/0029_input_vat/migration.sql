-- The VAT in what a registered studio buys. It is reclaimed, so that costs are entered without it, but where what is sold is exempt.
ALTER TABLE studio ADD input_vat_percent numeric(6, 3) NOT NULL DEFAULT 0 CHECK (input_vat_percent BETWEEN 0 AND 100);
ALTER TABLE material ADD input_vat_percent numeric(6, 3) CHECK (input_vat_percent BETWEEN 0 AND 100);
