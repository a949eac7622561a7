# SPDX-License-Identifier: GPL-3.0-or-later
# The measured cucumber with its equations written in R, one call of deSolve with events in R.
# Usage: Rscript table.R GIVEN
suppressMessages(library(deSolve))
source("tests/outside/cucumber.R")
source("tests/bench/search.R")
given <- read_given(commandArgs(trailingOnly = TRUE)[1])

# A visit fills up with what is poured.
stage <- stages[[1]]
act <- function(day, y, parameters) {
    if (day == stages[[1]]$until) stage <<- stages[[2]]
    if (any(day == given$visits)) y[1:11] <- y[1:11] + (full - y[1]) * c(1, given$poured)
    y
}
acts <- list(func = act, time = sort(c(given$visits, stages[[1]]$until)))
times <- c(0, acts$time, given$days)
first <- c(given$first, rep(0, 1 + length(ions)))
now <- function(day, y, parameters) rates(day, y, stage)

# share: of rtol, for one absolute tolerance of everything.
solve_by <- function(method, hmax) {
    function(rtol, share) {
        function() {
            stage <<- stages[[1]]
            rows <- ode(first, times, now, NULL, method, rtol = rtol, atol = rtol * share,
                        events = acts, hmax = hmax, maxsteps = 1e6)
            rows[nrow(rows), -(1:12)]
        }
    }
}
good <- TRUE
for (method in c("lsoda", "adams", "ode23", "ode45")) {
    solve <- solve_by(method, if (startsWith(method, "ode")) NULL else 0)
    good <- search(method, solve, given$right, given$targets, 10^-(2:11), c(1, 0.01)) && good
}
quit(status = !good)
