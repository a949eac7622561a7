# SPDX-License-Identifier: GPL-3.0-or-later
# 39 analyses of river water (ade4::rhone, Debian's r-cran-ade4): EC computed from calcium,
# magnesium, sulfate and bicarbonate against the conductivity measured with them. The data do
# not say to which temperature the meter referred, 20 or 25 degC, and sodium, chloride, nitrate
# and potassium were not measured; so both readings are told, and what is checked is that the
# measured values lie between the two, 11 % apart, scatter little, and follow the computed ones
# more closely than the hardness, the best single analysis, does (0.87).
# Usage: Rscript rhone.R PROGRAM
suppressMessages(library(ade4))
program <- commandArgs(trailingOnly = TRUE)[1]
data(rhone)
river <- rhone$tab
names(river) <- tolower(names(river))
column <- function(pattern) {
    found <- grep(pattern, names(river), value = TRUE)
    stopifnot(length(found) == 1)
    river[[found]]
}
ca <- column("^totca")
mg <- column("^mg")
so4 <- column("^so4|^sulf")
hco3 <- column("^hco3|^bicarb")
measured <- column("^conduc") / 1000
lines <- paste(ca, mg, so4, hco3)
computed <- read.table(text = system(program, input = lines, intern = TRUE))
stopifnot(nrow(computed) == 39)
told <- function(at, ec) {
    ratio <- measured / ec
    cat(sprintf("  referred to %d degC: measured/computed mean %.3f, sd %.3f, correlation %.3f\n",
                at, mean(ratio), sd(ratio), cor(measured, ec)))
    ratio
}
r25 <- told(25, computed[[1]])
r20 <- told(20, computed[[2]])
hardness <- cor(measured, column("^caco3"))
good <- c(mean(r25) < 1, mean(r20) > 1, sd(r25) / mean(r25) < 0.08,
          cor(measured, computed[[1]]) > hardness)
what <- c("measured below the 25 degC reading",
          "measured above the 20 degC reading",
          "spread of the ratio below 8 %",
          sprintf("closer to the measured than hardness is, %.3f", hardness))
for (i in seq_along(good)) cat(sprintf("  %-4s %s\n", if (good[i]) "ok" else "FAIL", what[i]))
cat(sprintf("%d passed, %d failed\n", sum(good), sum(!good)))
quit(status = any(!good))
