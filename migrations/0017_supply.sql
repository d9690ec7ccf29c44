-- Parts looked for by the step that needs them and by the part that took their place; what became of them is added up from
-- the index alone.

CREATE INDEX part_by_step ON part (step);
CREATE INDEX part_by_replaced ON part (replaces) WHERE replaces IS NOT NULL AND withdrawn IS NULL;
DROP INDEX part_move_by_part;
CREATE INDEX part_move_by_part ON part_move (part, withdrawn, kind, quantity);
