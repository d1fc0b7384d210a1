-- In which language a person reads their papers; '': in that of the shop's papers.
ALTER TABLE customers ADD COLUMN language TEXT NOT NULL DEFAULT '' CHECK (language IN ('', 'en', 'es', 'de'));
