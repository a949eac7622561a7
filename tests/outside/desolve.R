# SPDX-License-Identifier: GPL-3.0-or-later
# The program's life against LSODA (R's deSolve) on the same right-hand side, sample by sample.
# Usage: Rscript desolve.R LIBRARY SCENARIO STRATEGY CSV
suppressMessages(library(deSolve))
arguments <- commandArgs(trailingOnly = TRUE)
dyn.load(arguments[1])
csv <- read.csv(arguments[4], check.names = FALSE)

opened <- .C("outside_open", path = arguments[2], strategy = as.integer(arguments[3]),
             count = 0L, duration = 0)
stopifnot(opened$count > 0)
count <- opened$count
state <- .C("outside_first", state = double(count))$state
day <- 0

# Rows as in the CSV: plain samples, and the state before and after each visit.
rows <- list()
keep <- function(day, event, state) {
    rows[[length(rows) + 1]] <<- c(day, event, state)
}
act <- function(day, state) {
    .C("outside_act", day = day, state = state, before = double(count), visited = 0L)
}
every <- 0.25
# What falls on the very first moment is the lamp alone.
state <- act(0, state)$state
repeat {
    stop <- .C("outside_stop", day = day, stop = 0)$stop
    inner <- seq(ceiling(day / every + 1e-9), floor(stop / every + 1e-9)) * every
    inner <- inner[inner > day + 1e-9 & inner < stop - 1e-9]
    times <- c(day, inner, stop)
    solved <- lsoda(state, times, func = "derivs", parms = NULL,
                    dllname = sub("\\.so$", "", basename(arguments[1])),
                    initfunc = NULL, rtol = 1e-10, atol = 1e-11, maxsteps = 1e5)
    stopifnot(nrow(solved) == length(times))
    for (i in seq_along(inner)) keep(inner[i], 0, solved[i + 1, -1])
    acted <- act(stop, solved[nrow(solved), -1])
    if (acted$visited) {
        keep(stop, 1, acted$before)
        keep(stop, 2, acted$state)
    } else if (abs(stop / every - round(stop / every)) < 1e-9) {
        keep(stop, 0, acted$before)
    }
    state <- acted$state
    day <- stop
    if (day > opened$duration - 1e-9) break
}
invisible(.C("outside_close"))
mine <- do.call(rbind, rows)

ions <- c("no3", "nh4", "p", "k", "ca", "mg", "so4", "na", "cl")
kind <- ifelse(csv$event == "", 0, ifelse(csv$event == "before visit", 1,
        ifelse(csv$event %in% c("after visit", "after renewal"), 2, NA)))
key <- function(day, kind) sprintf("%.6f/%d", day, as.integer(kind))
at <- match(key(csv$day, kind), key(mine[, 1], mine[, 2]))
compared <- which(!is.na(at))
stopifnot(length(compared) > 0.95 * sum(!is.na(kind)))
theirs <- mine[at[compared], -(1:2)]
ours <- csv[compared, ]
volume <- theirs[, 1]
pairs <- list(volume_L = volume, alkalinity_meq_L = theirs[, 11] / volume,
              dry_mass_g = theirs[, 12], leaf_area_m2 = theirs[, 14],
              drunk_L = theirs[, 26], evaporated_L = theirs[, 27])
for (i in seq_along(ions)) pairs[[paste0(ions[i], "_mmol_L")]] <- theirs[, 1 + i] / volume

# Relative deviation, over at least a thousandth of the column's largest value: an ion that
# has run out has no digits left to compare.
failed <- 0
for (name in names(pairs)) {
    scale <- pmax(abs(pairs[[name]]), 1e-3 * max(abs(pairs[[name]])), 1e-12)
    worst <- max(abs(ours[[name]] - pairs[[name]]) / scale)
    good <- worst < 1e-4
    failed <- failed + !good
    cat(sprintf("  %-4s %-18s %5d samples, largest deviation %.2g\n",
                if (good) "ok" else "FAIL", name, length(compared), worst))
}
cat(sprintf("%d passed, %d failed\n", length(pairs) - failed, failed))
quit(status = failed > 0)
