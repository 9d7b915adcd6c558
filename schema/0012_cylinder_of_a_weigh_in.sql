-- What was weighed in came from a cylinder, as what the charge log has; '' not said, as in every call before.
ALTER TABLE tightness ADD COLUMN cylinder TEXT NOT NULL DEFAULT '';
