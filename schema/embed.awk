# Turns numbered migrations into one table of C strings (include/padside/schema.h).
BEGIN {
	print "#include <padside/schema.h>"
	print "const struct schema_migration schema_migrations[] = {"
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
	printf "\t\t\"%s\\n\"\n", line
}
END {
	if (count) print "\t},"
	print "\t{ .number = 0 }"
	print "};"
}
