# SPDX-License-Identifier: GPL-3.0-or-later
# The bay laurel's rates in laurel.R against the program's own, one by one, at random buckets and
# plants: empty and full, starved and salty, acid and alkaline, lamp on and off.
# Usage: Rscript rates.R LIBRARY SCENARIO STRATEGY
source("tests/outside/laurel.R")
arguments <- commandArgs(trailingOnly = TRUE)
dyn.load(arguments[1])
opened <- .C("outside_open", path = arguments[2], strategy = as.integer(arguments[3]),
             count = 0L, duration = 0)
stopifnot(opened$count > 0)
first <- .C("outside_first", state = double(opened$count))$state

# Where laurel.R's components are among the program's: thermal time, thirst and litres
# evaporated are its own alone.
kept <- setdiff(seq_along(first), c(16, 17, 27))
set.seed(2385)
any_state <- function() {
    y <- first
    y[1] <- sample(c(25, 15, 5, 2.5, 1.5, 0.6, 0.2), 1) * runif(1, 0.8, 1)
    y[2:10] <- y[1] / full * first[2:10] * 10^runif(9, -2, 1) * sample(c(1, 1, 1, 0.01), 9, TRUE)
    y[11] <- y[1] * sample(c(0.4, -0.3, 1.5, 5, -2), 1) * runif(1)
    y[12] <- 10^runif(1, 0.5, 2.8)
    y[13] <- 0.2 * y[12] * runif(1, 0.5, 1.5)
    y[14] <- sample(c(0.03, 0.3, 1, 1.3, 1.41), 1)
    y[15] <- runif(1, 10, 31)
    y[18:23] <- y[12] * optimum * runif(6, 0.6, 1.6) * sample(c(1, 1, 2), 6, TRUE)
    y[24:25] <- y[12] * runif(2, 0, c(0.25, 0.45))
    y
}

count <- 400
worst <- 0
seen <- list(starved = 0, dry = 0, salty = 0)
for (i in seq_len(count)) {
    hour <- if (i %% 2 == 0) 12 else 2
    .C("outside_act", day = hour / 24, state = first, before = first, visited = 0L)
    y <- any_state()
    theirs <- .C("derivs", opened$count, 0, y, rate = double(opened$count), 0, 0L)$rate[kept]
    ours <- rates(0, y[kept], if (hour == 12) lamp$on else lamp$off)[[1]]
    worst <- max(worst, abs(ours - theirs) / pmax(abs(theirs), 1e-9))
    seen$starved <- seen$starved + (nourished(y[18:25], y[12]) < 0.5)
    seen$dry <- seen$dry + (theirs[24] == 0)
    seen$salty <- seen$salty + (ec_of(1e-3 * y[2:10] / y[1], 1e-3 * y[11] / y[1]) > 2.2)
}
invisible(.C("outside_close"))
stopifnot(unlist(seen) > count / 50)
good <- worst < 1e-9
cat(sprintf("  %-4s %d states, largest relative deviation of any rate %.2g\n",
            if (good) "ok" else "FAIL", count, worst))
cat(sprintf("%d passed, %d failed\n", good, !good))
quit(status = !good)
