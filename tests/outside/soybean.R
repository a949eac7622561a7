# SPDX-License-Identifier: GPL-3.0-or-later
# Growth of soybean plots, g of leaf a plant over days (nlme::Soybean, Debian's r-cran-nlme;
# Davidian & Giltinan 1995, Nonlinear Models for Repeated Measurement Data): the logistic of
# four plots of all three years and both varieties, one of them hardly bending yet (1988P6), as
# the program's least squares finds it from one rough start for all, and as R's nls does with
# SSlogis. Estimates and standard errors must agree.
# Usage: Rscript soybean.R PROGRAM
suppressMessages(library(nlme))
program <- commandArgs(trailingOnly = TRUE)[1]
soybean <- as.data.frame(Soybean)
start <- c(10, 45, 10)
failed <- 0
count <- 0
check <- function(what, worst, most) {
    good <- is.finite(worst) && worst < most
    count <<- count + 1
    failed <<- failed + !good
    cat(sprintf("  %-4s %s: largest deviation %.1g\n", if (good) "ok" else "FAIL", what, worst))
}
ours <- function(plot) {
    out <- system2(program, start, input = paste(plot$Time, plot$weight), stdout = TRUE)
    as.numeric(strsplit(trimws(out), " ")[[1]])
}
for (name in c("1988F4", "1988P6", "1989P4", "1990F5")) {
    plot <- soybean[soybean$Plot == name, ]
    near <- nls(weight ~ SSlogis(Time, Asym, xmid, scal), plot)
    theirs <- summary(nls(weight ~ SSlogis(Time, Asym, xmid, scal), plot, start = coef(near),
                          control = nls.control(tol = 1e-8)))$coefficients
    mine <- ours(plot)
    check(sprintf("plot %s, %d weighings, asymptote %.3f g, middle on day %.2f, slope %.3f d",
                  name, nrow(plot), mine[1], mine[2], mine[3]),
          max(abs(mine[1:3] / theirs[, 1] - 1)), 1e-5)
    check(sprintf("  its standard errors %.3f, %.2f, %.3f", mine[4], mine[5], mine[6]),
          max(abs(mine[4:6] / theirs[, 2] - 1)), 1e-4)
}
cat(sprintf("%d passed, %d failed\n", count - failed, failed))
quit(status = failed > 0)
