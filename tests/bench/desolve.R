# SPDX-License-Identifier: GPL-3.0-or-later
# A life in R's deSolve on the program's own compiled right-hand side, in one call: visits,
# lamp switches and cuts are compiled events. No rows but where events fall, no limits watched.
# Usage: Rscript desolve.R LIBRARY SCENARIO STRATEGY GIVEN
suppressMessages(library(deSolve))
source("tests/bench/search.R")
arguments <- commandArgs(trailingOnly = TRUE)
dyn.load(arguments[1])
given <- read_given(arguments[4])

opened <- .C("outside_open", path = arguments[2], strategy = as.integer(arguments[3]),
             count = 0L, duration = 0)
stopifnot(opened$count > 0)
first <- .C("outside_first", state = double(opened$count))$state
most <- 10000L
events <- .C("outside_events", most = most, day = double(most), count = 0L)
stopifnot(events$count > 0, events$count < most)
acts <- list(func = "outside_event", time = events$day[seq_len(events$count)])
times <- c(0, acts$time, opened$duration)
library_name <- sub("\\.so$", "", basename(arguments[1]))
watched <- given$watched + 1

# share: of the absolute tolerances that the program takes.
solve_by <- function(method, hmax) {
    function(rtol, share) {
        atol <- share * .C("outside_tolerance", rtol = rtol, atol = double(opened$count))$atol
        function() {
            .C("outside_rewind")
            rows <- ode(first, times, "derivs", NULL, method, rtol = rtol, atol = atol,
                        events = acts, dllname = library_name, initfunc = NULL,
                        hmax = hmax, maxsteps = 1e6)
            rows[nrow(rows), 1 + watched]
        }
    }
}
rtols <- 10^-seq(2, 11, by = 0.5)
good <- TRUE
for (method in c("lsoda", "adams", "ode23", "ode45")) {
    solve <- solve_by(method, if (startsWith(method, "ode")) NULL else 0)
    good <- search(method, solve, given$right, given$targets, rtols, 10^(1:-2)) && good
}
quit(status = !good)
