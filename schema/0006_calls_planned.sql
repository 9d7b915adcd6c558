-- Calls that are planned and not begun stand first, the next one on top.
CREATE INDEX call_planned ON call (planned_at, uid)
	WHERE planned_at IS NOT NULL AND arrived_at IS NULL AND closed_at IS NULL;
