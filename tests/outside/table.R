# SPDX-License-Identifier: GPL-3.0-or-later
# The cucumber of scenarios/measured-cucumber.cfg left alone until its bucket is empty, written
# again in cucumber.R and solved by LSODA (R's deSolve), against the program: not only the
# integrator is another, the equations are written twice.
# Usage: Rscript table.R CSV
suppressMessages(library(deSolve))
source("tests/outside/cucumber.R")
csv <- read.csv(commandArgs(trailingOnly = TRUE)[1], check.names = FALSE)

plain <- csv[csv$event %in% c("start", "", "end"), ]
concentrations <- paste0(ions, "_mmol_L")
first <- plain[1, ]
state <- c(first$volume_L, as.numeric(first[concentrations]) * first$volume_L,
           first$alkalinity_meq_L * first$volume_L, rep(0, 1 + length(ions)))
theirs <- NULL
begin <- 0
for (stage in stages) {
    days <- plain$day[plain$day >= begin & plain$day <= stage$until]
    times <- unique(c(begin, days, min(stage$until, max(plain$day))))
    solved <- lsoda(state, times, rates, stage, rtol = 1e-10, atol = 1e-12)
    state <- solved[nrow(solved), -1]
    begin <- stage$until
    theirs <- rbind(theirs, solved[solved[, 1] %in% days, ])
}
theirs <- theirs[!duplicated(theirs[, 1]), ]
at <- match(round(plain$day, 9), round(theirs[, 1], 9))
stopifnot(!anyNA(at), nrow(plain) > 100)
theirs <- theirs[at, ]

failed <- 0
check <- function(name, theirs) {
    scale <- pmax(abs(theirs), 1e-3 * max(abs(theirs)))
    worst <- max(abs(plain[[name]] - theirs) / scale)
    good <- worst < 1e-4
    failed <<- failed + !good
    cat(sprintf("  %-4s %-18s %5d samples, largest deviation %.2g\n",
                if (good) "ok" else "FAIL", name, length(theirs), worst))
}
v <- theirs[, 2]
check("volume_L", v)
check("level_cm", vapply(v, level_at, 0))
for (i in seq_along(ions)) check(concentrations[i], theirs[, 2 + i] / v)
check("alkalinity_meq_L", theirs[, 12] / v)
count <- length(ions) + 3
# The comparison must have seen the roots lose the water, or it has not seen that equation.
stopifnot(min(v) < volume_at(1.5))
cat(sprintf("%d passed, %d failed\n", count - failed, failed))
quit(status = failed > 0)
