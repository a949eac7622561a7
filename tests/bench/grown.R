# SPDX-License-Identifier: GPL-3.0-or-later
# The bay laurel with its equations written in R, one call of deSolve with events in R.
# Usage: Rscript grown.R GIVEN
suppressMessages(library(deSolve))
source("tests/outside/laurel.R")
source("tests/bench/search.R")
given <- read_given(commandArgs(trailingOnly = TRUE)[1])

# share: of rtol, for one absolute tolerance of everything.
solve_by <- function(method, hmax) {
    function(rtol, share) {
        function() {
            rows <- live(given$first, NULL, given$visits, given$poured, given$days,
                         method = method, rtol = rtol, atol = rtol * share, hmax = hmax)
            rows[nrow(rows), 1 + totals]
        }
    }
}
good <- TRUE
for (method in c("lsoda", "ode45")) {
    solve <- solve_by(method, if (method == "ode45") NULL else 0)
    good <- search(method, solve, given$right, given$targets, 10^-(3:9), c(1, 0.01), 3) && good
}
quit(status = !good)
