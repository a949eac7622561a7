# SPDX-License-Identifier: GPL-3.0-or-later
# The bay laurel of scenarios/evergreen-two-years.cfg on a fixed mix for two years, its equations
# written again in laurel.R and solved by LSODA (R's deSolve), against the program.
# Usage: Rscript grown.R CSV
suppressMessages(library(deSolve))
source("tests/outside/laurel.R")
csv <- read.csv(commandArgs(trailingOnly = TRUE)[1], check.names = FALSE)

# Litres, nine ions and alkalinity in the bucket, of each row.
liquid <- csv$volume_L * cbind(1, as.matrix(csv[c(paste0(ions, "_mmol_L"), "alkalinity_meq_L")]))
before <- which(csv$event == "before visit")
stopifnot(length(before) > 50, all(csv$event[before + 1] == "after visit"))
added <- liquid[before + 1, ] - liquid[before, ]
poured <- added[1, -1] / added[1, 1]
plain <- which(csv$event %in% c("", "end") & !csv$day %in% cuts)
days <- max(csv$day)
solved <- live(liquid[1, ], csv$day[plain], csv$day[before], poured, days, method = "lsoda",
               rtol = 1e-9, atol = 1e-11)
theirs <- solved[match(round(csv$day[plain], 9), round(solved[, 1], 9)), -1]
stopifnot(!anyNA(theirs), length(plain) > 2500, days > 700)

failed <- 0
checks <- 0
check <- function(name, ours, theirs) {
    scale <- pmax(abs(theirs), 1e-3 * max(abs(theirs)))
    worst <- max(abs(ours - theirs) / scale)
    good <- worst < 1e-4
    failed <<- failed + !good
    checks <<- checks + 1
    cat(sprintf("  %-4s %-18s %5d samples, largest deviation %.2g\n",
                if (good) "ok" else "FAIL", name, length(theirs), worst))
}
check("volume_L", csv$volume_L[plain], theirs[, 1])
for (i in seq_along(ions)) check(paste0(ions[i], "_mmol"), liquid[plain, 1 + i], theirs[, 1 + i])
check("alkalinity_meq", liquid[plain, 11], theirs[, 11])
check("dry_mass_g", csv$dry_mass_g[plain], theirs[, 12])
check("leaf_area_m2", csv$leaf_area_m2[plain], theirs[, 14])
check("drunk_L", csv$drunk_L[plain], theirs[, totals[1]])
# What was eaten in the end follows from the program's books: first, poured, left.
eaten <- liquid[1, 2:10] + colSums(added[, 2:10]) - liquid[nrow(liquid), 2:10]
for (i in seq_along(ions)) {
    check(paste0(ions[i], " eaten, mmol"), eaten[i], theirs[nrow(theirs), totals[1 + i]])
}
# The comparison must have seen salt stress, dry roots and a full canopy.
stopifnot(max(csv$ec_mS_cm) > 3, min(theirs[, 1]) < 3, max(theirs[, 14]) > 0.8 * 4 * footprint)
cat(sprintf("%d passed, %d failed\n", checks - failed, failed))
quit(status = failed > 0)
