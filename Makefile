# padside: build, test, install.
#
#   make              the program, build/padside, and padside-pdf.so beside it; PDF=no leaves that out
#   make check        every test (packages must be there: see tests/run)
#   make sanitize     the tests under AddressSanitizer and UBSan
#   make fuzz [FUZZ_SECONDS=60]  random bytes at everything that reads; needs clang
#   make fuzz-keys      300,000 random keys on the workbook, sanitized
#   make trouble      every request for memory refused, killed at every change of a file
#   make fuzz-kill [KILLS=100]  kills the workbook at random moments of typing
#   make mutate [SEED=1] [COUNT=100 | EACH=40 | AGAIN=LOG] [ROOMS="calc model"] [QUICK=1] [SANITIZED=1]
#                       break the program in small ways: which changes no test notices
#   make coverage [MISSED=1]  lines and branches that the tests ran, by room
#   make check-guide  the newcomer's exercise: a reading, a figure and a fault by the guide alone;
#                     GUIDE=answers leaves out every test of the project in between
#   make check-reference  the figures against the reference libraries, live
#   make check-bare   a build without what is optional: it says what it cannot do, and does the rest
#   make check-schema   calls against their JSON Schema, by a public validator
#   make bench-saturation saturation lookups against the reference library's
#   make bench-assess   microseconds that one assessment takes
#   make bench          the two below
#   make bench-store    what the book costs: kept, listed, merged, verified, against peers, and
#                       how that grows from 1,000 calls to 100,000
#   make bench-book     the workbook on a book of 100,000 calls
#   make bench-office   100 trucks and an office: sending, a day, fifty at once, a first fill
#   make bench-diagnose [SPLIT=test|tune]  score the diagnosis on labelled calls
#   make check-diagnose  the same on a few calls, with floors that must hold
#   make bench-modes    the same one-shot, with deciding readings, with the unit's past, asking
#   make circuit-table  src/diagnose/circuit_table.c anew, from the same model (a quarter of an hour)
#   make bench-physics  the model behind those calls against the reference libraries
#   make lint         what cppcheck, clang-tidy and shellcheck say (.cppcheck, .clang-tidy)
#   make man          the pages in man/ and schema/call.schema.json anew, from the tables
#   make deb          a Debian package of what is built
#   make uninstall    what make install brought, out again
#   make install      PREFIX=/usr/local DESTDIR= [INSTALL_PROGRAM='install -s']
#
# A new source file in src/*/ or a new tests/*/test_NAME.c is found by its
# place and name; nothing here needs editing.

comma   := ,
CC      ?= cc
NM      ?= nm
BUILD   ?= build
PREFIX  ?= /usr/local
VERSION := 0.1.0
RELEASED := 2026-11-25

# CPPFLAGS, CFLAGS and LDFLAGS are the user's: they come last and may be anything.
# What the program itself asks for stands apart, in OUR_….
CFLAGS  ?= -O2 -g
STD     ?= c11

# What this compiler takes, asked once a run; what it does not take is left out.
takes = $(shell echo 'int main(void) { return 0; }' | \
          $(CC) $(1) -Werror $(if $(filter -Wl%,$(1)),-o /dev/null,-fsyntax-only) -x c - 2>/dev/null && \
          echo '$(1)')
FORTIFY_LEVEL = $(shell printf '\043include <string.h>\n' | \
          $(CC) -O2 -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=3 -Werror -fsyntax-only -x c - 2>/dev/null && \
          echo 3 || echo 2)
ifndef FORTIFY
FORTIFY := -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=$(FORTIFY_LEVEL)
endif
HARDENED := $(foreach flag,-fstack-protector-strong -fstack-clash-protection -fcf-protection \
              -ffile-prefix-map=$(CURDIR)=.,$(call takes,$(flag)))
LINK_HARDENED := $(foreach flag,-Wl$(comma)-z$(comma)relro -Wl$(comma)-z$(comma)now \
              -Wl$(comma)-z$(comma)noexecstack,$(call takes,$(flag)))
# A table of pointers needs a bit each instead of 24 bytes: 100 kB less in memory.
LINK_PACKED := $(call takes,-Wl$(comma)-z$(comma)pack-relative-relocs)

WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes \
        -Wmissing-prototypes -Wvla $(WERROR)
# Optional: meeting an office server. libpq is loaded when one is met (src/store/libpq.c); here its
# headers are needed.  Without them `padside sync` says so.
LIBPQ   := $(shell pkg-config --exists libpq 2>/dev/null && echo yes)
DEFINES := -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE -DPADSIDE_VERSION='"$(VERSION)"' \
        -DPADSIDE_RELEASED='"$(RELEASED)"'
DEFINES += $(if $(LIBPQ),-DHAVE_LIBPQ $(shell pkg-config --cflags libpq))
OUR_CPPFLAGS := -Iinclude -Isrc -Itests -I$(BUILD) $(DEFINES) $(FORTIFY)
OUR_CFLAGS   := -std=$(STD) $(WARN) -fno-common $(HARDENED) $(SANITIZE)
OUR_LDFLAGS  := $(LINK_HARDENED) $(LINK_PACKED) $(SANITIZE)

# Where pkg-config knows the library it says what to link; else by the usual name.
library = $(or $(shell pkg-config --libs $(1) 2>/dev/null),$(2))
LIBS    := $(call library,sqlite3,-lsqlite3) $(call library,ncursesw,-lncursesw) -ldl -lm

COMPILE = $(CC) $(OUR_CPPFLAGS) $(CPPFLAGS) $(OUR_CFLAGS) $(CFLAGS)
LINK    = $(CC) $(OUR_CFLAGS) $(CFLAGS) $(OUR_LDFLAGS) $(LDFLAGS)

SOURCES := $(sort $(wildcard src/*/*.c))
PROGRAM := src/cli/main.c
LIBRARY := $(filter-out $(PROGRAM) $(if $(LIBPQ),,src/store/libpq.c),$(SOURCES))
SUPPORT := $(sort $(wildcard tests/support/*.c))
TESTS   := $(sort $(wildcard tests/unit/test_*.c tests/store/test_*.c \
             tests/report/test_*.c tests/screens/test_*.c))
SCHEMA  := $(sort $(wildcard schema/*.sql))
OFFICE  := $(sort $(wildcard schema/office/*.sql))

object = $(patsubst %.c,$(BUILD)/%.o,$(1))
LIB_OBJECTS  := $(call object,$(LIBRARY)) $(BUILD)/schema.o $(BUILD)/office.o
TEST_OBJECTS := $(call object,$(TESTS) $(SUPPORT)) $(BUILD)/tests/runner.o

.PHONY: all tests objects check sanitize coverage mutate fuzz fuzz-keys fuzz-kill trouble lint clean
.PHONY: check-bare check-guide check-reference check-schema check-diagnose
.PHONY: bench bench-office bench-store bench-saturation bench-assess bench-book bench-diagnose bench-physics
.PHONY: man install uninstall deb FORCE
.SECONDARY:

# Reports as PDF: a module that is loaded when one is asked for. It is built where
# pkg-config knows pango and cairo; PDF=no leaves it out.
PDF_PACKAGES := pangocairo cairo-pdf
PDF ?= $(shell pkg-config --exists $(PDF_PACKAGES) 2>/dev/null && echo yes || echo no)
PDF_MODULE   := $(if $(filter yes,$(PDF)),$(BUILD)/padside-pdf.so)
PDF_OBJECTS  := $(call object,$(wildcard src/report/pdf/*.c))

all: $(BUILD)/padside $(PDF_MODULE)

# What is loaded on demand calls back into the program, which shows those functions: to show all
# would keep 60 kB of names in memory.
$(BUILD)/shown: $(if $(PDF_MODULE),$(PDF_OBJECTS))
	@mkdir -p $(@D)
	(echo '{ main;'; $(if $^,$(NM) -u $^ | sed -n 's/^ *U \([a-z_0-9]*\)$$/\1;/p' | sort -u;) \
	  echo '};') > $@

$(BUILD)/padside: $(call object,$(PROGRAM)) $(BUILD)/libpadside.a $(BUILD)/shown
	$(LINK) -Wl,--dynamic-list=$(BUILD)/shown -o $@ $(filter %.o %.a,$^) $(LIBS)

$(PDF_OBJECTS): OUR_CFLAGS += -fPIC \
  $(patsubst -I%,-isystem %,$(shell pkg-config --cflags-only-I $(PDF_PACKAGES) 2>/dev/null))

$(BUILD)/padside-pdf.so: $(PDF_OBJECTS)
	$(LINK) -shared -o $@ $^ $(shell pkg-config --libs $(PDF_PACKAGES)) -lm

$(BUILD)/libpadside.a: $(LIB_OBJECTS)
	@rm -f $@
	$(AR) rcs $@ $^

# What is optional and was installed since, or another version: all is compiled anew.
$(BUILD)/options: FORCE
	@mkdir -p $(@D)
	@echo '$(VERSION) $(RELEASED) libpq: $(LIBPQ)' | cmp -s - $@ || \
	  echo '$(VERSION) $(RELEASED) libpq: $(LIBPQ)' > $@

FORCE:

$(BUILD)/%.o: %.c $(BUILD)/options
	@mkdir -p $(@D)
	$(COMPILE) -MMD -MP -c -o $@ $<

# The migrations, as C strings, so that the program carries its own schema.
# One that was taken out counts too: then the folder is newer.
$(BUILD)/schema.c: $(SCHEMA) schema schema/embed.awk
	@mkdir -p $(@D)
	awk -v table=schema_migrations -f schema/embed.awk $(SCHEMA) > $@

$(BUILD)/office.c: $(OFFICE) schema/office schema/embed.awk
	@mkdir -p $(@D)
	awk -v table=office_migrations -f schema/embed.awk $(OFFICE) > $@

$(BUILD)/schema.o $(BUILD)/office.o: %.o: %.c
	$(COMPILE) -c -o $@ $<

# One runner holds every suite: tests/DIR/test_NAME.c offers `Suite *NAME_suite(void)`;
# tests/support/ holds what several suites share.
$(BUILD)/suites.def: $(TESTS) Makefile
	@mkdir -p $(@D)
	for t in $(patsubst test_%,%,$(basename $(notdir $(TESTS)))); do echo "SUITE($$t)"; done > $@

$(BUILD)/tests/runner.o: $(BUILD)/suites.def

$(BUILD)/test-runner: $(TEST_OBJECTS) $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ -lcheck -lsubunit -lrt -lpthread $(LIBS)

tests: $(BUILD)/padside $(PDF_MODULE) $(BUILD)/test-runner $(BUILD)/manual $(BUILD)/trouble.so

# What lets memory or the drive go wrong under the program; it stands under
# everything, so that no sanitizer goes in.
$(BUILD)/trouble.so: tests/trouble/trouble.c
	@mkdir -p $(@D)
	$(CC) -std=$(STD) $(WARN) $(CPPFLAGS) $(CFLAGS) -fPIC -shared $(LDFLAGS) -o $@ $< -ldl

# The program compiled and not linked: for compilers whose libraries are not here.
objects: $(LIB_OBJECTS) $(call object,$(PROGRAM))

check: tests
	BUILD=$(BUILD) tests/all

# The manual pages, written from the tables; those in man/ are what they say today.
MANUAL := $(call object,$(sort $(wildcard man/*.c)))
PAGES  := padside.1 padside-keys.7 padside-readings.7 padside-json.5 padside-office.7

$(BUILD)/manual: $(MANUAL) $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ $(LIBS)

man: $(BUILD)/manual $(BUILD)/padside
	for page in $(PAGES); do $(BUILD)/manual $$page > man/$$page || exit 1; done
	$(BUILD)/padside record --schema > schema/call.schema.json

INSTALL         ?= install
INSTALL_PROGRAM ?= $(INSTALL)
SHARE            = $(DESTDIR)$(PREFIX)/share

COMPLETIONS      = $(SHARE)/bash-completion/completions/padside \
                   $(SHARE)/zsh/site-functions/_padside $(SHARE)/fish/vendor_completions.d/padside.fish

install: $(BUILD)/padside $(PDF_MODULE)
	$(INSTALL) -d $(DESTDIR)$(PREFIX)/bin $(SHARE)/man/man1 $(SHARE)/man/man5 $(SHARE)/man/man7 \
	  $(SHARE)/applications $(dir $(COMPLETIONS))
	$(INSTALL_PROGRAM) -m 755 $(BUILD)/padside $(DESTDIR)$(PREFIX)/bin/padside
	$(if $(PDF_MODULE),$(INSTALL) -d $(DESTDIR)$(PREFIX)/lib/padside && \
	  $(INSTALL_PROGRAM) -m 644 $(PDF_MODULE) $(DESTDIR)$(PREFIX)/lib/padside/padside-pdf.so)
	for page in $(PAGES); do \
	  $(INSTALL) -m 644 man/$$page $(SHARE)/man/man$${page##*.}/$$page || exit 1; done
	$(INSTALL) -m 644 man/completion.bash $(SHARE)/bash-completion/completions/padside
	$(INSTALL) -m 644 man/completion.zsh $(SHARE)/zsh/site-functions/_padside
	$(INSTALL) -m 644 man/completion.fish $(SHARE)/fish/vendor_completions.d/padside.fish
	$(INSTALL) -m 644 man/padside.desktop $(SHARE)/applications/padside.desktop

deb: $(BUILD)/padside $(PDF_MODULE)
	man/deb.sh $(BUILD) $(VERSION) $(RELEASED)

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/padside $(DESTDIR)$(PREFIX)/lib/padside/padside-pdf.so $(COMPLETIONS) $(SHARE)/applications/padside.desktop
	-rmdir $(DESTDIR)$(PREFIX)/lib/padside 2>/dev/null
	for page in $(PAGES); do rm -f $(SHARE)/man/man$${page##*.}/$$page; done

SANITIZED_BUILD := CFLAGS='-O1 -g' FORTIFY= \
  SANITIZE='-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer'

# Built without what is optional: LIBPQ is empty, as where pkg-config does not know it.
check-bare:
	$(MAKE) LIBPQ= PDF=no BUILD=$(BUILD)/bare tests
	BUILD=$(BUILD)/bare tests/store/bare
	BUILD=$(BUILD)/bare $(BUILD)/bare/test-runner office_line office

# The unit tests share a process here (tests/runner.c): one each costs ten minutes.
sanitize:
	CK_FORK=no $(MAKE) BUILD=$(BUILD)/sanitize $(SANITIZED_BUILD) check

# Everything that reads, under clang's fuzzer: one program a file in tests/fuzz/.
# First what is kept in tests/fuzz/inputs/NAME, every input that ever failed among
# it; then new ones, those worth keeping in $(FUZZ)/inputs/NAME.
FUZZ         := $(BUILD)/fuzz
FUZZ_SECONDS ?= 60
FUZZ_TARGETS := $(patsubst tests/fuzz/%.c,%,$(sort $(wildcard tests/fuzz/*.c)))

fuzz:
	+$(MAKE) CC=clang BUILD=$(FUZZ) CFLAGS='-O1 -g' FORTIFY= \
	  SANITIZE='-fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=all' \
	  $(FUZZ_TARGETS:%=$(FUZZ)/fuzz-%)
	mkdir -p $(FUZZ_TARGETS:%=$(FUZZ)/inputs/%)
	split -l 1 -a 3 demo/book.ndjson $(FUZZ)/inputs/call_json/demo-
	cp demo/prices.csv $(FUZZ)/inputs/csv/
	+$(MAKE) $(FUZZ_TARGETS:%=fuzz-inputs-%)

fuzz-inputs-%:
	@echo "$*: $(FUZZ_SECONDS) s"
	$(FUZZ)/fuzz-$* -runs=0 tests/fuzz/inputs/$* >$(FUZZ)/$*.log 2>&1 || { cat $(FUZZ)/$*.log; exit 1; }
	$(FUZZ)/fuzz-$* -max_total_time=$(FUZZ_SECONDS) -timeout=10 -verbosity=0 \
	  -artifact_prefix=$(FUZZ)/$*- $(FUZZ)/inputs/$* tests/fuzz/inputs/$* >$(FUZZ)/$*.log 2>&1 || \
	  { cat $(FUZZ)/$*.log; exit 1; }

$(BUILD)/fuzz-%: $(BUILD)/tests/fuzz/%.o $(BUILD)/tests/support/key_name.o $(BUILD)/libpadside.a
	$(LINK) -fsanitize=fuzzer -o $@ $^ $(LIBS)

fuzz-keys:
	$(MAKE) BUILD=$(BUILD)/sanitize $(SANITIZED_BUILD) $(BUILD)/sanitize/test-runner
	PADSIDE_FUZZ_SEEDS=30 PADSIDE_FUZZ_KEYS=10000 $(BUILD)/sanitize/test-runner keys_fuzz

# See tests/mutate/mutate.py. It takes long: run it with nice, and look in tomorrow.
SEED  ?= 1
COUNT ?= 100

mutate:
	+python3 -B tests/mutate/mutate.py $(if $(QUICK),--quick) $(if $(SANITIZED),--sanitized) \
	  --seed $(SEED) --count $(COUNT) $(if $(EACH),--each $(EACH)) $(if $(AGAIN),--again $(AGAIN)) --rooms $(ROOMS)

# The counts of one run of all tests: those of an earlier one are forgotten first.
coverage:
	+$(MAKE) CC=gcc BUILD=$(BUILD)/coverage CFLAGS='-O0 -g' FORTIFY= SANITIZE=--coverage tests
	find $(BUILD)/coverage -name '*.gcda' -delete
	BUILD=$(BUILD)/coverage tests/all >$(BUILD)/coverage/tests.log || tail -n 1 $(BUILD)/coverage/tests.log
	python3 -B tests/coverage.py $(if $(MISSED),--missed) $(BUILD)/coverage/src

# "A new thing is a row", tried in a scratch copy.
check-guide:
	+GUIDE=$(GUIDE) python3 -B tests/newcomer.py

KILLS ?= 100

fuzz-kill: $(BUILD)/padside
	BUILD=$(BUILD) tests/fuzz/kill $(KILLS) $$(date +%s)

trouble: tests
	BUILD=$(BUILD) tests/trouble/memory
	BUILD=$(BUILD) tests/trouble/kills

# What is looked for and what is left out, with reasons: .cppcheck and .clang-tidy.
LINTED := $(SOURCES) $(sort $(wildcard man/*.c))

lint: $(patsubst %.c,$(BUILD)/lint/%.ok,$(LINTED))
	shellcheck -x -P . tests/all tests/run tests/packages tests/cli/*.sh tests/screens/*.sh \
	  tests/fuzz/kill tests/screens/lib tests/trouble/lib tests/trouble/memory tests/trouble/kills tests/store/*.sh tests/store/server tests/store/bare demo/run demo/office .ci/run man/deb.sh \
	  man/completion.bash
	cppcheck --quiet --std=c11 --enable=warning,performance,portability --error-exitcode=1 \
	  --suppressions-list=.cppcheck $(filter-out -D_FORTIFY%,$(filter -I% -D%,$(OUR_CPPFLAGS))) src man

$(BUILD)/lint/%.ok: %.c .clang-tidy
	@mkdir -p $(@D)
	clang-tidy --quiet --warnings-as-errors='*' $< -- $(OUR_CPPFLAGS) -std=c11 2>$(@:.ok=.log)
	@touch $@

# The reference libraries, in a virtual environment of their own.
REFERENCE := $(BUILD)/reference
PYTHON    := $(REFERENCE)/bin/python

$(REFERENCE)/installed: tests/reference/requirements.txt
	tests/packages reference
	python3 -m venv $(REFERENCE)
	$(PYTHON) -m pip install --quiet --disable-pip-version-check -r $<
	@touch $@

check-reference: $(BUILD)/padside $(REFERENCE)/installed
	$(PYTHON) -B tests/reference/check.py $(BUILD)/padside

check-schema: $(BUILD)/padside $(REFERENCE)/installed
	$(PYTHON) -B tests/reference/schema.py $(BUILD)/padside

$(BUILD)/saturation: $(BUILD)/tests/bench/saturation/saturation.o $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ -lm

bench-saturation: $(BUILD)/saturation $(REFERENCE)/installed
	$(PYTHON) -B tests/bench/saturation/compare.py $(BUILD)/saturation

$(BUILD)/assess: $(BUILD)/tests/bench/assess/assess.o $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ $(LIBS)

bench-assess: $(BUILD)/assess
	$(BUILD)/assess

# Books of 100,000, 20,000 and 1,000 calls are made once; see tests/bench/book/.
BOOK_CALLS  ?= 100000
MERGE_CALLS ?= 20000

$(BUILD)/make_book: $(BUILD)/tests/bench/book/make_book.o $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ $(LIBS)

$(BUILD)/time_store: $(BUILD)/tests/bench/book/time_store.o $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ $(LIBS)

$(BUILD)/time_book: $(BUILD)/tests/bench/book/time_book.o $(BUILD)/libpadside.a
	$(LINK) -o $@ $^ $(LIBS)

$(BUILD)/book-%.db: tests/bench/book/make_book.c $(SCHEMA) | $(BUILD)/make_book
	rm -f $@ $@-wal $@-shm
	$(BUILD)/make_book $@.part $* < demo/book.ndjson
	mv $@.part $@

# Another truck's book, to be merged with one of the same size.
$(BUILD)/other-%.db: tests/bench/book/make_book.c $(SCHEMA) | $(BUILD)/make_book
	rm -f $@ $@-wal $@-shm
	$(BUILD)/make_book $@.part $* 1 < demo/book.ndjson
	mv $@.part $@

bench: bench-store bench-book

# What is typed goes into copies.
bench-store: $(BUILD)/padside $(BUILD)/time_store $(BUILD)/book-1000.db \
  $(BUILD)/book-$(BOOK_CALLS).db $(BUILD)/book-$(MERGE_CALLS).db $(BUILD)/other-$(MERGE_CALLS).db
	rm -rf $(BUILD)/scratch
	mkdir -p $(BUILD)/scratch
	cp $(BUILD)/book-1000.db $(BUILD)/scratch/small.db
	cp $(BUILD)/book-$(BOOK_CALLS).db $(BUILD)/scratch/large.db
	$(BUILD)/time_store $(BUILD)/padside $(BUILD)/scratch/small.db $(BUILD)/scratch/large.db \
	  $(BUILD)/book-$(MERGE_CALLS).db $(BUILD)/other-$(MERGE_CALLS).db $(BUILD)/scratch
	rm -rf $(BUILD)/scratch

bench-office: $(BUILD)/padside
	tests/bench/office/run $(or $(TRUCKS),100) $(or $(CALLS),1000)

bench-book: $(BUILD)/padside $(BUILD)/time_book $(BUILD)/book-1000.db $(BUILD)/book-$(BOOK_CALLS).db
	python3 -B tests/bench/book/first_frame.py $(BUILD)/padside $(BUILD)/book-$(BOOK_CALLS).db
	$(BUILD)/time_book $(BUILD)/book-$(BOOK_CALLS).db $(BUILD)/book-1000.db

# Labelled calls are made once a split and seed; see tests/bench/diagnose/README.md.
BENCH      := tests/bench/diagnose
SPLIT      ?= test
BENCH_SEED ?= $(if $(filter tune,$(SPLIT)),1,2)
CALLS      := $(REFERENCE)/calls-$(SPLIT)-$(BENCH_SEED)
TABLES     := $(REFERENCE)/tables

MAKERS     := $(filter-out %/report.py %/signs.py %/check.py %/modes.py %/circuit_table.py \
                %/samples.py,$(wildcard $(BENCH)/*.py))

$(CALLS).ndjson: $(REFERENCE)/installed $(MAKERS)
	$(PYTHON) -B $(BENCH)/generate.py --split $(SPLIT) --seed $(BENCH_SEED) --count 2500 \
	  --calls $@.part --labels $(CALLS).labels --tables $(TABLES)
	mv $@.part $@

bench-diagnose: $(BUILD)/padside $(CALLS).ndjson
	$(PYTHON) -B $(BENCH)/report.py --padside $(BUILD)/padside --split $(SPLIT) \
	  --calls $(CALLS).ndjson --labels $(CALLS).labels

# A few calls of their own, and floors instead of targets: quick enough for every change.
GATE_CALLS := $(REFERENCE)/calls-gate

$(GATE_CALLS).ndjson: $(REFERENCE)/installed $(MAKERS)
	$(PYTHON) -B $(BENCH)/generate.py --split test --seed 3 --count 600 \
	  --calls $@.part --labels $(GATE_CALLS).labels --tables $(TABLES)
	mv $@.part $@

check-diagnose: $(BUILD)/padside $(GATE_CALLS).ndjson
	$(PYTHON) -B $(BENCH)/report.py --padside $(BUILD)/padside --floors \
	  --calls $(GATE_CALLS).ndjson --labels $(GATE_CALLS).labels

# Every way the diagnosis is used, on three fleets, beside a learner taught on the other split.
MODE_SEED  ?= 211
MODE_COUNT_wide  := 1100
MODE_COUNT_odd   := 1500
MODE_COUNT_pairs := 350
MODES      := $(REFERENCE)/modes-$(MODE_SEED)
MODE_FILES := $(foreach f,wide odd pairs,$(MODES)-test-$(f).ndjson) $(MODES)-tune-wide.ndjson

$(REFERENCE)/learner: $(BENCH)/requirements.txt $(REFERENCE)/installed
	$(PYTHON) -m pip install --quiet --disable-pip-version-check -r $<
	@touch $@

$(MODES)-%.ndjson: $(REFERENCE)/installed $(MAKERS)
	$(PYTHON) -B $(BENCH)/generate.py --split $(word 1,$(subst -, ,$*)) \
	  --fleet $(word 2,$(subst -, ,$*)) --count $(MODE_COUNT_$(word 2,$(subst -, ,$*))) \
	  --seed $(if $(filter tune-%,$*),71,$(MODE_SEED)) \
	  --calls $@.part --labels $(@:.ndjson=.labels) --tables $(TABLES)
	mv $@.part $@

bench-modes: $(BUILD)/padside $(REFERENCE)/learner $(MODE_FILES)
	for fleet in wide odd pairs; do \
	  $(PYTHON) -B $(BENCH)/modes.py --padside $(BUILD)/padside --name $$fleet \
	    --calls $(MODES)-test-$$fleet.ndjson --labels $(MODES)-test-$$fleet.labels \
	    --learn-calls $(MODES)-tune-wide.ndjson --learn-labels $(MODES)-tune-wide.labels || exit 1; \
	done

# What the diagnosis of the circuit expects, from many units of that model; seeds are fixed.
circuit-table: $(REFERENCE)/installed
	OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 $(PYTHON) -B $(BENCH)/circuit_table.py \
	  --tables $(TABLES) --output src/diagnose/circuit_table.c

bench-physics: $(REFERENCE)/installed
	$(PYTHON) -B $(BENCH)/check.py --tables $(TABLES)
	$(PYTHON) -B $(BENCH)/signs.py --tables $(TABLES)

clean:
	rm -rf $(BUILD)

-include $(shell find $(BUILD) -name '*.d' -type f 2>/dev/null)
