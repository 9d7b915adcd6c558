-- A book that was put back from an old copy uses its numbers again, and where its
-- clock had run ahead its stamps as well: such entries are two, told apart by
-- their checksums.  Else the second would not be taken, and nobody else had it.

SET LOCAL search_path TO @firm@;

ALTER TABLE entry DROP CONSTRAINT entry_pkey;
ALTER TABLE entry ADD PRIMARY KEY (book, number, stamp, sum);
