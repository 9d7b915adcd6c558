#!/bin/sh
# What may be found and what must not: tests/statements/findings-*.txt.
# shellcheck source=tests/cli/lib
. "$(dirname "$0")/lib"

# FILE: the calls to $scratch/calls, one a line; what is asked of them to
# $scratch/asked as number, title, words.
split() {
	awk -v calls="$scratch/calls" -v asked="$scratch/asked" -v others="$scratch/others" '
		function flush() { if (input != "") { print input >calls; input = "" } }
		BEGIN { printf "" >calls; printf "" >asked; printf "" >others }
		/^#/ || /^$/ { next }
		/^[ \t]/ { input = input $0; next }
		/^statement / { flush(); n++; title = substr($0, 11); sourced[n] = 0; next }
		/^source ./ { sourced[n] = 1; next }
		/^input / { input = substr($0, 7); given[n] = 1; next }
		/^(customer|office|si) (says|never) ./ { print n "\t" title "\t" $0 >others; next }
		{ print n "\037" title "\037" $0 "\036" >asked }
		END {
			flush()
			for (i = 1; i <= n; i++)
				if (!sourced[i] || !given[i])
					print "statement " i " has no source or no input"
		}' "$1"
}

# The questions in SQL: another program than ours reads the answers.
answer() { # prints "ok" or "no", the title and the statement
	awk '{ printf "%d\037%s\036", NR, $0 }' "$scratch/answers" >"$scratch/answers.ascii"
	tr -d '\n' <"$scratch/asked" >"$scratch/asked.ascii"
	sqlite3 :memory: >"$scratch/verdicts" 2>"$scratch/complaints" <<-SQL
	CREATE TABLE answers(n INTEGER, json TEXT);
	CREATE TABLE asked(n INTEGER, title TEXT, words TEXT);
	.mode ascii
	.import $scratch/answers.ascii answers
	.import $scratch/asked.ascii asked
	.separator "\t" "\n"
	CREATE TABLE findings AS SELECT a.n, CAST(f.key AS INTEGER) AS place,
		f.value ->> 'id' AS id, f.value ->> 'basis' AS basis, f.value ->> 'level' AS level,
		f.value ->> 'probability' AS p, f.value ->> 'after_work' AS after_work,
		f.value ->> '\$.judged.verdict' AS judged FROM answers a, json_each(a.json, '\$.findings') f;
	CREATE TABLE nexts AS SELECT a.n, CAST(c.key AS INTEGER) AS place,
		c.value ->> 'reading' AS reading FROM answers a, json_each(a.json, '\$.next_checks') c;
	CREATE TABLE words AS
		SELECT rowid AS line, n, title, words, words || ' ' AS padded,
			CASE WHEN words LIKE 'must not %' THEN 'must not'
				WHEN words LIKE 'must %' THEN 'must' WHEN words LIKE 'next first %' THEN 'next first'
				WHEN words LIKE 'next second %' THEN 'next second'
				ELSE substr(words, 1, instr(words, ' ') - 1) END AS kind FROM asked;
	CREATE TABLE parts AS SELECT *, trim(substr(padded, length(kind) + 2)) AS rest,
		substr(substr(padded, length(kind) + 2), 1,
			instr(substr(padded, length(kind) + 2), ' ') - 1) AS name FROM words;
	CREATE VIEW matching AS
		SELECT q.line, f.place FROM parts q JOIN findings f ON f.n = q.n AND f.id = q.name
		WHERE (instr(q.padded, ' measured ') = 0 OR f.basis = 'measured')
		AND (instr(q.padded, ' inferred ') = 0 OR f.basis = 'inferred')
		AND (instr(q.padded, ' act ') = 0 OR f.level = 'act')
		AND (instr(q.padded, ' watch ') = 0 OR f.level = 'watch')
		AND (instr(q.padded, ' note ') = 0 OR f.level = 'note')
		AND (instr(q.padded, ' first ') = 0 OR f.place = 0)
		AND (instr(q.padded, ' second ') = 0 OR f.place <= 1)
		AND (instr(q.padded, ' p>') = 0 OR
			f.p > CAST(substr(q.padded, instr(q.padded, ' p>') + 3) AS REAL))
		AND (instr(q.padded, ' p<') = 0 OR
			f.p < CAST(substr(q.padded, instr(q.padded, ' p<') + 3) AS REAL));
	SELECT CASE WHEN CASE q.kind
		WHEN 'must' THEN EXISTS (SELECT 1 FROM matching m WHERE m.line = q.line)
		WHEN 'must not' THEN NOT EXISTS (SELECT 1 FROM matching m WHERE m.line = q.line)
		WHEN 'after' THEN EXISTS (SELECT 1 FROM findings f WHERE f.n = q.n AND
			f.id || ' ' || f.after_work = q.rest)
		WHEN 'judged' THEN EXISTS (SELECT 1 FROM findings f WHERE f.n = q.n AND
			f.id || ' ' || f.judged = q.rest)
		WHEN 'no' THEN q.rest = 'act' AND
			NOT EXISTS (SELECT 1 FROM findings f WHERE f.n = q.n AND f.level = 'act')
		WHEN 'next' THEN EXISTS (SELECT 1 FROM nexts c WHERE c.n = q.n AND c.reading = q.name)
		WHEN 'next first' THEN
			EXISTS (SELECT 1 FROM nexts c WHERE c.n = q.n AND c.reading = q.name AND c.place = 0)
		WHEN 'next second' THEN
			EXISTS (SELECT 1 FROM nexts c WHERE c.n = q.n AND c.reading = q.name AND c.place = 1)
		WHEN 'verdict' THEN q.rest = q.name || ' ' || coalesce(
			a.json ->> ('\$.figures.' || q.name || '.verdict'),
			a.json ->> ('\$.readings.' || q.name || '.verdict'), 'none')
		WHEN 'limit' THEN q.rest = q.name || CASE
			a.json ->> ('\$.figures.' || q.name || '.expected.assumed')
			WHEN 1 THEN ' assumed' WHEN 0 THEN ' known' ELSE ' none' END
		WHEN 'assumes' THEN q.rest = q.name || ' ' || coalesce(
			a.json ->> ('\$.figures.' || q.name || '.assumed'), 'nothing')
		WHEN 'contradicts' THEN CASE WHEN q.rest = 'nothing'
			THEN json_array_length(a.json, '\$.contradictions') = 0
			ELSE instr(a.json -> '\$.contradictions', q.rest) > 0 END
		WHEN 'says' THEN instr(a.json, q.rest) > 0
		WHEN 'never' THEN length(q.rest) > 0 AND instr(a.json, q.rest) = 0
		ELSE 0 END AND a.json LIKE '{"figures"%' THEN 'ok' ELSE 'no' END,
		q.title, q.words, coalesce((SELECT group_concat(id || ' ' || basis || ' ' || level || ' ' ||
			round(p, 2), ', ') FROM findings f WHERE f.n = q.n), 'nothing found')
	FROM parts q LEFT JOIN answers a ON a.n = q.n ORDER BY q.line;
	SQL
}

# A statement about another output: the customer's or the office's report, from a book of its
# own, or the assessment in SI.
ask_other() { # N TITLE WORDS
	words=${3#* }
	sed -n "$1{s/^{/{\"customer\": {\"name\": \"Mara Quill\"}, /;p}" "$scratch/calls" >"$scratch/call"
	if [ "${3%% *}" = si ]; then
		run --units si assess "$scratch/call"
	else
		rm -f "$book"
		run record "$scratch/call"
		run export "$(cat "$out")" --format text --for "${3%% *}"
	fi
	tr -s ' \n' ' ' <"$out" >"$scratch/other"
	case $words in
	says\ *) check "$2: $3" holds "$scratch/other" "${words#says }" ;;
	*) check "$2: $3" lacks "$scratch/other" "${words#never }" ;;
	esac
}

tab=$(printf '\t')
for table in tests/statements/findings-*.txt; do
	check "$table: every statement has its input and its source" is "$(split "$table")" ""
	split "$table"
	run assess "$scratch/calls" --json
	cp "$out" "$scratch/answers"
	check "$table: one answer a statement" is "$(wc -l <"$scratch/answers")" \
		"$(wc -l <"$scratch/calls")"
	answer
	check "$table: every line was asked" is "$(wc -l <"$scratch/verdicts")" \
		"$(wc -l <"$scratch/asked")"
	while IFS=$tab read -r verdict title words found; do
		ran="$title"
		if [ "$verdict" = ok ]; then
			pass
		else
			printf '%s\n' "$found" >"$out"
			: >"$err"
			fail "$table: $title" "$words"
		fi
	done <"$scratch/verdicts"
	while IFS=$tab read -r n title words; do
		ask_other "$n" "$title" "$words"
	done <"$scratch/others"
done

close statements
