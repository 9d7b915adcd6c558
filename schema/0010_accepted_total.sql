-- What the bill came to when the work was accepted; 0: not said, as in every call before.
ALTER TABLE call ADD COLUMN accepted_total INTEGER NOT NULL DEFAULT 0;
