# SPDX-License-Identifier: GPL-3.0-or-later
# The cucumber of scenarios/measured-cucumber.cfg, written in R from docs/model.md and
# docs/scenario.md alone: litres, nine ions, alkalinity, and behind them the litres drunk and
# the nine amounts eaten so far.
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
    ((15.5^3 + 3000 * wall * pmax(volume, 0) / pi)^(1 / 3) - 15.5) / wall
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
    list(c(-drunk - evaporated, -taken, -sum(charge * taken), drunk, taken))
}
