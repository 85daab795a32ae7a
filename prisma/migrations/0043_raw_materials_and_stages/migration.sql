-- Feldspar, whiting, flint, ball clay: what a glaze is weighed out from. Stains are calcined colours, mixed in or brushed on.
ALTER TYPE material_kind ADD VALUE 'rawMaterial';
ALTER TYPE material_kind ADD VALUE 'stain';

-- Clay that went back into the bucket before it was bisqued, and ware that nobody collected and somebody else was given.
ALTER TYPE piece_stage ADD VALUE 'givenAway' BEFORE 'broken';
ALTER TYPE piece_stage ADD VALUE 'reclaimed' BEFORE 'broken';

-- A maker is who makes a pot; who makes a glaze is its manufacturer.
ALTER TABLE material RENAME maker_statement TO manufacturer_statement;
ALTER TABLE material RENAME maker_statement_on TO manufacturer_statement_on;
