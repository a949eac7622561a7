# pailcast: one bucket, one plant, its whole life. `make help` lists what can be made.
# SPDX-License-Identifier: GPL-3.0-or-later

VERSION = 0.1.0
MODE   ?= release
CC     ?= cc
PREFIX ?= /usr/local

BUILD := build/$(MODE)
FLAGS_release  := -O2
FLAGS_sanitize := -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
FLAGS_coverage := -O0 -g --coverage

PACKAGES := libconfig gsl libcjson
OUR_CFLAGS := -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Itests -MMD -MP \
	-DPAILCAST_VERSION='"$(VERSION)"' \
	-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes \
	-ffp-contract=off -fPIC $(FLAGS_$(MODE)) $(shell pkg-config --cflags $(PACKAGES) 2>/dev/null)
OUR_LIBS := -lsundials_cvode -lsundials_arkode -lsundials_nvecserial -lsundials_sunmatrixdense \
	-lsundials_sunlinsoldense -lsundials_sunnonlinsolfixedpoint \
	$(shell pkg-config --libs $(PACKAGES) 2>/dev/null) -ludunits2 -lcsv -lm

SOURCES := $(wildcard sim/*/*.c)
LIBRARY_SOURCES := $(filter-out sim/cli/%,$(SOURCES))
OBJECTS := $(SOURCES:%.c=$(BUILD)/%.o)
LIBRARY_OBJECTS := $(LIBRARY_SOURCES:%.c=$(BUILD)/%.o)
LIBRARY := $(BUILD)/libpailcast.a
PROGRAM := $(BUILD)/pailcast

TEST_SOURCES := $(filter-out tests/support/% tests/outside/% tests/fuzz/% tests/bench/%,$(wildcard tests/*/*.c))
TESTS := $(TEST_SOURCES:%.c=$(BUILD)/%)
SUPPORT := $(patsubst %.c,$(BUILD)/%.o,$(wildcard tests/support/*.c))

all: build/pailcast build/libpailcast.a

build/pailcast: $(PROGRAM)
	ln -sf release/pailcast $@
build/libpailcast.a: $(LIBRARY)
	ln -sf release/libpailcast.a $@

$(PROGRAM): $(filter $(BUILD)/sim/cli/%,$(OBJECTS)) $(LIBRARY)
	$(CC) $(CFLAGS) $(OUR_CFLAGS) $(LDFLAGS) $^ $(OUR_LIBS) -o $@

$(LIBRARY): $(LIBRARY_OBJECTS)
	rm -f $@
	ar rcs $@ $^

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(OUR_CFLAGS) $(CFLAGS) -c $< -o $@

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(SUPPORT) $(LIBRARY)
	$(CC) $(CFLAGS) $(OUR_CFLAGS) $(LDFLAGS) $^ $(OUR_LIBS) -lcmocka -o $@

tests: $(TESTS)

clean:
	rm -rf build out

.PHONY: all tests clean
.SECONDARY:
-include $(shell find build -name '*.d' 2>/dev/null)
