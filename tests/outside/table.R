# SPDX-License-Identifier: GPL-3.0-or-later
# The cucumber of scenarios/measured-cucumber.cfg left alone until its bucket is empty, written
# here from docs/model.md and docs/scenario.md alone and solved by LSODA (R's deSolve), against
# the program: not only the integrator is another, the equations are written twice.
# Usage: Rscript table.R CSV
suppressMessages(library(deSolve))
csv <- read.csv(commandArgs(trailingOnly = TRUE)[1], check.names = FALSE)

ions <- c("no3", "nh4", "p", "k", "ca", "mg", "so4", "na", "cl")
charge <- c(-1, 1, -1, 1, 2, 2, -2, 1, -1)
full <- 30
evaporates <- 0.03
follows <- c(0, 0, 0, 0, 0, 0, 0, 0.15, 0.2)
stages <- list(list(until = 25, drinks = 0.4, eats = c(9, 0.8, 1, 5, 2.1, 0.8, 0.6, 0, 0)),
               list(until = Inf, drinks = 2.6, eats = c(8, 0.6, 0.8, 4.8, 1.8, 0.7, 0.5, 0, 0)))

# A truncated cone, 42 cm high, 31 cm wide below and 36 above; roots reach its floor.
wall <- (18 - 15.5) / 42
volume_at <- function(level) pi * ((15.5 + wall * level)^3 - 15.5^3) / (3 * wall) / 1000
level_at <- function(volume) {
    if (volume <= 0) return(0)
    uniroot(function(h) volume_at(h) - volume, c(0, 42), tol = 1e-13)$root
}
smooth <- function(x) {
    x <- pmin(pmax(x, 0), 1)
    x^3 * (10 - 15 * x + 6 * x^2)
}
rates <- function(day, y, stage) {
    v <- y[1]
    c <- pmax(y[2:10], 0) / max(v, 1e-4 * full)
    wet <- smooth(level_at(v) / 3)
    drunk <- stage$drinks * wet
    evaporated <- evaporates * smooth(v / (0.02 * full))
    taken <- (stage$eats * smooth(c / 0.05) + follows * c) * drunk
    list(c(-drunk - evaporated, -taken, -sum(charge * taken)))
}

plain <- csv[csv$event %in% c("start", "", "end"), ]
concentrations <- paste0(ions, "_mmol_L")
first <- plain[1, ]
state <- c(first$volume_L, as.numeric(first[concentrations]) * first$volume_L,
           first$alkalinity_meq_L * first$volume_L)
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
