# Turns numbered migrations into one table of C strings, named by -v table=NAME
# (include/padside/base/schema.h).
BEGIN {
	print "#include <padside/base/schema.h>"
	# ISO C promises only 4095 bytes to a literal; our compilers hold more.
	print "#pragma GCC diagnostic ignored \"-Woverlength-strings\""
	print "const struct schema_migration " table "[] = {"
}
FNR == 1 {
	if (count++) print "\t},"
	number = FILENAME
	sub(/.*\//, "", number)
	name = number
	sub(/_.*/, "", number)
	sub(/^0+/, "", number)
	sub(/\.sql$/, "", name)
	printf "\t{\n\t\t.number = %d, .name = \"%s\", .sql =\n", number, name
}
{
	line = $0
	gsub(/\\/, "\\\\", line)
	gsub(/"/, "\\\"", line)
	# Two question marks in a row would begin a trigraph.
	gsub(/\?/, "\\?", line)
	printf "\t\t\"%s\\n\"\n", line
}
END {
	if (count) print "\t},"
	print "\t{ .number = 0 }"
	print "};"
}
