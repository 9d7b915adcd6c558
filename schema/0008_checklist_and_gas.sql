-- The tune-up list of a call, and where the gas recovered into a cylinder went.
ALTER TABLE call ADD COLUMN checklist TEXT NOT NULL DEFAULT '';
ALTER TABLE cylinder ADD COLUMN went_to TEXT NOT NULL DEFAULT '';
