-- Two trails of one book, in a file that was copied and written in on both sides, are told apart
-- by the sum of the checksums of all its changes that are here: numbers alone do not tell them.
ALTER TABLE book ADD COLUMN digest INTEGER NOT NULL DEFAULT 0;
UPDATE book SET digest = (SELECT coalesce(sum(sum), 0) FROM entry WHERE entry.book = book.id);
