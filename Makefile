# pailcast: one bucket, one plant, its whole life. `make help` lists what can be made.
# SPDX-License-Identifier: GPL-3.0-or-later

VERSION := 0.1.0
MODE    ?= release
PREFIX  ?= /usr/local
DEMO    ?= scenarios/first-bucket.cfg

# As many jobs as cores, unless asked otherwise.
ifeq ($(MAKELEVEL),0)
MAKEFLAGS += -j$(shell nproc 2>/dev/null || echo 2)
endif

# Lives of a study run in threads where the compiler can link OpenMP, else one by one.
ifeq ($(origin OPENMP),undefined)
OPENMP := $(shell echo 'int main(void){return 0;}' | $(CC) -fopenmp -x c - -o /dev/null \
	2>/dev/null && echo -fopenmp || echo -Wno-unknown-pragmas)
endif

# ---- flags: CC, CFLAGS, CPPFLAGS and LDFLAGS are the user's, the rest is ours

BUILD := build/$(MODE)
FLAGS_release  := -O2
FLAGS_strict   := -O2 -Werror
FLAGS_sanitize := -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all \
	-fno-omit-frame-pointer -Wno-format-truncation
FLAGS_coverage := -O0 -g --coverage
FLAGS_fuzz     := -O1 -g -fsanitize=fuzzer-no-link,address,undefined,float-cast-overflow \
	-fno-sanitize-recover=all -fno-omit-frame-pointer
FLAGS_valgrind := -O1 -g

# SUNDIALS has no pkg-config file. From 7 on it has a core library, and where it was built
# with MPI, as in Debian 13, its headers include MPI's; we only name "no communicator".
SUNDIALS := $(shell echo SUNDIALS_VERSION_MAJOR SUNDIALS_MPI_ENABLED | \
	$(CC) $(CPPFLAGS) -include sundials/sundials_config.h -E -P -x c - 2>/dev/null | tail -n 1)
SUNDIALS_CORE := $(if $(filter-out 5 6,$(firstword $(SUNDIALS))),-lsundials_core)
SUNDIALS_MPI := $(if $(SUNDIALS_CORE),$(if $(filter 1,$(lastword $(SUNDIALS))),mpi-c))

PACKAGES := libconfig gsl libcjson $(SUNDIALS_MPI)
OUR_CFLAGS := -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Itests \
	-DPAILCAST_VERSION='"$(VERSION)"' \
	-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes \
	-ffp-contract=off -fPIC $(OPENMP) $(FLAGS_$(MODE)) $(shell pkg-config --cflags $(PACKAGES) 2>/dev/null)
OUR_LIBS := $(filter -fopenmp,$(OPENMP)) -lsundials_cvodes -lsundials_arkode \
	-lsundials_nvecserial -lsundials_sunmatrixdense -lsundials_sunlinsoldense \
	-lsundials_sunnonlinsolfixedpoint $(SUNDIALS_CORE) \
	$(shell pkg-config --libs $(PACKAGES) 2>/dev/null) -ludunits2 -lcsv -lm
DATA_FOLDER := $(PREFIX)/share/pailcast

# ---- files: found by pattern, so a new one needs no line here

SOURCES := $(wildcard sim/*/*.c)
OBJECTS := $(SOURCES:%.c=$(BUILD)/%.o)
LIBRARY_OBJECTS := $(filter-out $(BUILD)/sim/cli/%,$(OBJECTS))
LIBRARY := $(BUILD)/libpailcast.a
PROGRAM := $(BUILD)/pailcast

TEST_SOURCES := $(filter-out tests/support/% tests/outside/% tests/fuzz/% tests/bench/%,$(wildcard tests/*/*.c))
TESTS := $(TEST_SOURCES:%.c=$(BUILD)/%)
TEST_SCRIPTS := $(filter-out tests/outside/% tests/bench/%,$(wildcard tests/*/*-test.sh))
SUPPORT := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/support/*.c))
FUZZ_TARGETS := $(patsubst %.c,$(BUILD)/%,$(filter-out %/replay.c %/mutator.c,$(wildcard tests/fuzz/*.c)))
OUTSIDE_RATES := $(BUILD)/tests/outside/desolve.so
OUTSIDE := $(OUTSIDE_RATES) $(BUILD)/tests/outside/rhone $(BUILD)/tests/outside/soybean
BENCHES := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/bench/*.c))
EVERY_C := $(SOURCES) $(wildcard tests/*/*.c)
EVERY_H := $(wildcard include/pailcast/*/*.h sim/*/*.h tests/*/*.h)
SCENARIOS := $(wildcard scenarios/*.cfg)

SHOW = $(if $(V),,@echo "  $1 $@" &&)
NEED := CC='$(CC)' tests/tools/need.sh
AGAIN = +@$(MAKE) --no-print-directory $(if $(V),,-s)

# ---- building

all: build/pailcast build/libpailcast.a ## build the program and the library (the default)

build/pailcast: $(PROGRAM)
	@ln -sf $(MODE)/pailcast $@
build/libpailcast.a: $(LIBRARY)
	@ln -sf $(MODE)/libpailcast.a $@

$(PROGRAM): $(filter $(BUILD)/sim/cli/%,$(OBJECTS)) $(LIBRARY)
	$(call SHOW,link) $(CC) $(CFLAGS) $(OUR_CFLAGS) $(LDFLAGS) $^ $(OUR_LIBS) -o $@

$(LIBRARY): $(LIBRARY_OBJECTS) $(BUILD)/members
	@rm -f $@
	$(call SHOW,pack) ar rcs $@ $(LIBRARY_OBJECTS)

$(BUILD)/%.o: %.c $(BUILD)/flags
	@mkdir -p $(@D)
	$(call SHOW,make) $(CC) $(OUR_CFLAGS) $(CPPFLAGS) $(CFLAGS) -MMD -MP -c $< -o $@

$(BUILD)/sim/scenario/catalog.o: private OUR_CFLAGS += -DPAILCAST_DATA_DIR='"$(DATA_FOLDER)"'
$(BUILD)/sim/scenario/catalog.o: $(BUILD)/data-folder

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(SUPPORT) $(LIBRARY)
	$(call SHOW,link) $(CC) $(CFLAGS) $(OUR_CFLAGS) $(LDFLAGS) $^ $(OUR_LIBS) -lcmocka -o $@

# Under MODE=fuzz the compiler's fuzzer drives a target, else replay.c does.
ifeq ($(MODE),fuzz)
$(FUZZ_TARGETS): $(BUILD)/tests/fuzz/mutator.o
$(FUZZ_TARGETS): private OUR_CFLAGS += -fsanitize=fuzzer
else
$(FUZZ_TARGETS): $(BUILD)/tests/fuzz/replay.o
endif

# What another solver loads: the right-hand side with what it stands on.
$(OUTSIDE_RATES): %.so: %.o $(LIBRARY)
	$(call SHOW,link) $(CC) $(CFLAGS) $(OUR_CFLAGS) $(LDFLAGS) -shared $^ $(OUR_LIBS) -o $@

objects: $(EVERY_C:%.c=$(BUILD)/%.o)
tests: $(TESTS) $(FUZZ_TARGETS)

# Files that remember a value; written anew only when it is another, so that what was
# made with it is made again.
KEPT_flags := $(strip $(CC) $(OUR_CFLAGS) $(CPPFLAGS) $(CFLAGS))
KEPT_members := $(strip $(LIBRARY_OBJECTS))
KEPT_data-folder := $(DATA_FOLDER)
KEPT := flags members data-folder
differ = $(subst x$1,,x$2)$(subst x$2,,x$1)
$(KEPT:%=$(BUILD)/%): $(BUILD)/%:
	$(shell mkdir -p $(@D))$(file >$@,$(KEPT_$*))@:
$(foreach k,$(KEPT),$(if $(call differ,$(file <$(BUILD)/$k),$(KEPT_$k)),$(BUILD)/$k)) nothing: FORCE

# ---- running and testing

RUN_TESTS = GOLDEN=$(wildcard tests/golden) tests/tools/run-tests.sh $(BUILD) $(TESTS)
REPORT := out/$(basename $(notdir $(DEMO)))/report.html

demo: ## install what is missing, build, live the first bucket, say where its report is
	@$(NEED) run
	$(AGAIN) all
	build/pailcast run $(DEMO)
	@[ -s $(REPORT) ] && echo && echo "The report to open in a browser: $(CURDIR)/$(REPORT)"

check: ## install what is missing, build, run every test and every scenario
	@$(NEED) test
	$(AGAIN) check-only

check-only: all tests
	$(AGAIN) -q all tests || { echo "make has more to do right after it was done"; exit 1; }
	@$(RUN_TESTS) $(TEST_SCRIPTS) $(SCENARIOS)

check-outside: ## compare with published numbers, another solver and a browser (installs R, Chromium)
	@$(NEED) test outside
	$(AGAIN) all $(OUTSIDE)
	@tests/outside/run.sh

FIT_STUDY = $(BUILD)/tests/study/fit
check-fit: ## learn 24 invented buckets from their logbooks, and print how well
	@$(NEED) test
	$(AGAIN) all $(FIT_STUDY)
	@FIT_LOGBOOKS=24 LIMIT_S=600 tests/tools/run-tests.sh $(BUILD)/check-fit $(FIT_STUDY); \
		status=$$?; sed -n '/ logbooks$$/,/written wrong/p' $(BUILD)/check-fit/log/*-fit; \
		exit $$status

study-fit: all ## the same with 200 of them (four minutes)
	$(AGAIN) $(FIT_STUDY)
	@FIT_LOGBOOKS=200 $(FIT_STUDY)

sanitize: ## every test and scenario under the address and undefined-behaviour sanitizers
	@$(NEED) test
	$(AGAIN) MODE=sanitize sanitize-only

sanitize-only: $(PROGRAM) $(TESTS)
	@tests/tools/sanitized.sh env $(RUN_TESTS) $(SCENARIOS)

BUILDS := $(foreach compiler,gcc clang,$(foreach level,O0 O1 O2 O3,$(compiler)-$(level)))
builds: ## every test and scenario as gcc and clang build them, -O0 to -O3 (half an hour)
	@$(NEED) test builds
	+@for build in $(BUILDS); do echo "== $$build"; \
		$(MAKE) --no-print-directory -s MODE=$$build CC=$${build%-*} \
			CFLAGS="-$${build#*-} -Werror" built-only || exit; done

built-only: $(PROGRAM) $(TESTS)
	@$(RUN_TESTS) $(SCENARIOS)

# Programs that tests start go on without it; they have sections of their own elsewhere.
UNDER_VALGRIND := valgrind -q --error-exitcode=99 --leak-check=full --show-leak-kinds=definite \
	--errors-for-leak-kinds=definite --fair-sched=yes --suppressions=tests/support/known_leak.supp
valgrind: ## unit tests and a short scenario under valgrind's memcheck (long)
	@$(NEED) test valgrind
	$(AGAIN) MODE=valgrind valgrind-only

valgrind-only: $(PROGRAM) $(TESTS)
	@UNDER='$(UNDER_VALGRIND)' LIMIT_S=$${LIMIT_S:-1200} tests/tools/run-tests.sh $(BUILD) \
		$(filter-out $(BUILD)/tests/cli/%,$(TESTS)) scenarios/first-bucket.cfg

coverage: ## which share of sim/ the tests run, file by file; fails under 90 %
	@$(NEED) test
	$(AGAIN) MODE=coverage coverage-only

# Counting and not optimised, a test takes some times as long.
coverage-only: $(PROGRAM) $(TESTS)
	@find $(BUILD) -name '*.gcda' -delete
	@LIMIT_S=300 $(RUN_TESTS) $(SCENARIOS)
	@tests/tools/coverage.sh $(BUILD)

mutants: ## put slips into copies of the tree, one at a time: does a test see each? (minutes)
	@$(NEED) test
	$(AGAIN) mutants-only

# Nothing is caught by a test that fails anyway, so they are run unspoilt first.
mutants-only: all tests
	@$(RUN_TESTS) $(SCENARIOS)
	+@tests/mutants/run.sh . tests/mutants/faults.txt $(BUILD) $(TESTS) $(SCENARIOS)

golden: all ## keep the results of the shipped scenarios as they are now
	@mkdir -p tests/golden
	@for scenario in $(basename $(notdir $(SCENARIOS))); do \
		build/pailcast run scenarios/$$scenario.cfg --quiet --out build/golden/$$scenario && \
		cp build/golden/$$scenario/summary.json tests/golden/$$scenario.json || exit; done

# Seconds for each target.
SECONDS ?= 60
fuzz: ## hand damaged input to the readers and lives of it to the reports, SECONDS=60 each (clang)
	@$(NEED) fuzz
	$(AGAIN) $(FUZZ_TARGETS)
	$(AGAIN) MODE=fuzz CC=clang OPENMP=-Wno-unknown-pragmas fuzz-only

fuzz-only: $(FUZZ_TARGETS)
	@tests/fuzz/fuzz.sh $(BUILD) build/release $(SECONDS) $(notdir $(FUZZ_TARGETS))

bench: ## how fast, also beside other solvers (installs R and SciPy): medians of several runs
	@$(NEED) bench
	$(AGAIN) bench-only

bench-only: all $(BENCHES) $(OUTSIDE_RATES)
	@for bench in $(BENCHES); do $$bench || exit; done

RELEASE ?= bookworm
fresh-check: ## do what README.md says on a bare Debian 12, or RELEASE=trixie (needs root)
	@$(NEED) fresh
	@tests/tools/fresh-check.sh $(RELEASE)

# ---- keeping the code tidy

# Layout and complaints change from one version to the next: 14 where it can be had.
CLANG_FORMAT := $(firstword $(shell command -v clang-format-14 2>/dev/null) clang-format)
CLANG_TIDY := $(firstword $(shell command -v clang-tidy-14 2>/dev/null) clang-tidy)

lint: ## layout, layers, names, warnings of both compilers, clang-tidy, cppcheck, shellcheck
	@$(NEED) lint
	$(AGAIN) lint-only

lint-only: format-check layers symbols strict tidy cppcheck shellcheck

format: ## lay out the code as .clang-format says
	$(CLANG_FORMAT) -i $(EVERY_C) $(EVERY_H)

format-check:
	@$(CLANG_FORMAT) --dry-run -Werror $(EVERY_C) $(EVERY_H)

layers:
	@tests/tools/layers.sh .

symbols: $(OBJECTS)
	@tests/tools/symbols.sh $(BUILD)

strict: strict-gcc strict-clang
strict-gcc strict-clang: strict-%:
	$(AGAIN) MODE=strict BUILD=build/strict-$* CC=$* objects

tidy: $(EVERY_C:%.c=build/tidy/%)
build/tidy/%: %.c .clang-tidy tests/.clang-tidy $(EVERY_H)
	@mkdir -p $(@D)
	@$(CLANG_TIDY) --quiet $< -- $(OUR_CFLAGS) 2>/dev/null
	@touch $@

cppcheck:
	@mkdir -p build/cppcheck
	@cppcheck --quiet --std=c11 --enable=warning,style,performance,portability \
		--suppressions-list=.cppcheck --inline-suppr --error-exitcode=1 \
		--cppcheck-build-dir=build/cppcheck -j 2 -Iinclude sim

shellcheck:
	@shellcheck -x -S warning -P tests/tools .ci/run docs/pailcast.bash $(wildcard tests/*/*.sh)

# ---- installing and shipping

define PC_FILE
prefix=$(PREFIX)
includedir=$${prefix}/include
libdir=$${prefix}/lib

Name: pailcast
Description: Simulation of one bucket of nutrient solution with one plant
Version: $(VERSION)
Cflags: -I$${includedir}
Libs: -L$${libdir} -lpailcast $(OUR_LIBS)
endef

ROOT = $(DESTDIR)$(PREFIX)
install: all ## install under PREFIX (/usr/local), below DESTDIR if given
	$(file >$(BUILD)/pailcast.pc,$(PC_FILE))@:
	install -D $(PROGRAM) $(ROOT)/bin/pailcast
	install -D -m 644 $(LIBRARY) $(ROOT)/lib/libpailcast.a
	install -D -m 644 $(BUILD)/pailcast.pc $(ROOT)/lib/pkgconfig/pailcast.pc
	find include/pailcast -name '*.h' -exec install -D -m 644 {} $(ROOT)/{} \;
	find scenarios plots -type f -exec install -D -m 644 {} $(DESTDIR)$(DATA_FOLDER)/{} \;
	install -D -m 644 docs/pailcast.1 $(ROOT)/share/man/man1/pailcast.1
	install -D -m 644 docs/pailcast.bash $(ROOT)/share/bash-completion/completions/pailcast

uninstall: ## remove what install put there
	rm -f $(ROOT)/bin/pailcast $(ROOT)/lib/libpailcast.a $(ROOT)/lib/pkgconfig/pailcast.pc
	rm -f $(ROOT)/share/man/man1/pailcast.1 $(ROOT)/share/bash-completion/completions/pailcast
	rm -rf $(ROOT)/include/pailcast $(DESTDIR)$(DATA_FOLDER)

# Who was given the archive has no clone, and may pass it on too.
NAME := pailcast-$(VERSION)
dist: ## a source archive, in build/: of the last commit, or of this tree where it is no clone
	@mkdir -p build
	@if [ -e .git ]; then git archive --prefix=$(NAME)/ HEAD; \
	else tar -c --exclude=./build --exclude=./out --transform='s,^\.,$(NAME),' .; fi | \
		gzip -n >build/$(NAME).tar.gz
	@echo build/$(NAME).tar.gz

clean: ## remove build/ and out/
	rm -rf build out

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/\1|\2/p' Makefile | \
		while IFS='|' read -r name what; do printf '  make %-14s %s\n' "$$name" "$$what"; done

.PHONY: all objects tests demo check-fit study-fit check check-only check-outside sanitize sanitize-only \
	builds built-only valgrind valgrind-only coverage coverage-only mutants mutants-only bench bench-only \
	fuzz fuzz-only fresh-check golden lint lint-only format format-check layers \
	symbols strict strict-gcc strict-clang tidy cppcheck shellcheck install uninstall dist \
	clean help nothing FORCE
.SECONDARY:
-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
