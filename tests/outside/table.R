# SPDX-License-Identifier: GPL-3.0-or-later
# A table plant written here from docs/model.md alone, solved by LSODA (R's deSolve), against
# the program: not only the integrator is another, the equations are written twice.
# Usage: Rscript table.R CSV
suppressMessages(library(deSolve))
csv <- read.csv(commandArgs(trailingOnly = TRUE)[1], check.names = FALSE)

# 20 L at the start in a straight bucket, 0.9 L/d drunk, 0.05 L/d evaporated; potassium and
# nitrate eaten at a constant concentration, sodium and chloride in proportion.
eats <- c(k = 3.3, no3 = 3.3)
follows <- c(na = 0.15, cl = 0.2)
smooth <- function(x) {
    x <- min(max(x, 0), 1)
    x^3 * (10 - 15 * x + 6 * x^2)
}
rates <- function(day, y, parms) {
    drunk <- 0.9
    evaporated <- 0.05 * smooth(y[["v"]] / (0.02 * 20))
    c_k <- y[["k"]] / y[["v"]]
    c_no3 <- y[["no3"]] / y[["v"]]
    k <- eats[["k"]] * smooth(c_k / 0.05) * drunk
    no3 <- eats[["no3"]] * smooth(c_no3 / 0.05) * drunk
    na <- follows[["na"]] * y[["na"]] / y[["v"]] * drunk
    cl <- follows[["cl"]] * y[["cl"]] / y[["v"]] * drunk
    list(c(v = -drunk - evaporated, k = -k, no3 = -no3, na = -na, cl = -cl,
           alkalinity = no3 + cl - k - na))
}
# In the order of rates().
first <- c(v = 20, k = 20 * 4.1, no3 = 20 * 4.1, na = 20 * 1.7, cl = 20 * 1.7, alkalinity = 0)
days <- csv$day[csv$event %in% c("start", "")]
solved <- lsoda(first, days, rates, NULL, rtol = 1e-10, atol = 1e-11)
ours <- csv[csv$event %in% c("start", ""), ]

failed <- 0
check <- function(name, theirs) {
    scale <- pmax(abs(theirs), 1e-3 * max(abs(theirs)))
    worst <- max(abs(ours[[name]] - theirs) / scale)
    good <- worst < 1e-4
    failed <<- failed + !good
    cat(sprintf("  %-4s %-18s %5d samples, largest deviation %.2g\n",
                if (good) "ok" else "FAIL", name, length(theirs), worst))
}
v <- solved[, "v"]
check("volume_L", v)
check("k_mmol_L", solved[, "k"] / v)
check("no3_mmol_L", solved[, "no3"] / v)
check("na_mmol_L", solved[, "na"] / v)
check("cl_mmol_L", solved[, "cl"] / v)
check("alkalinity_meq_L", solved[, "alkalinity"] / v)
cat(sprintf("%d passed, %d failed\n", 6 - failed, failed))
quit(status = failed > 0)
