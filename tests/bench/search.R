# SPDX-License-Identifier: GPL-3.0-or-later
# What the R scripts of this folder share: what they were given, and the search for the
# tolerances with which a method is fastest at no more than a given error.

# A file of lines "name value...", as a list.
read_given <- function(path) {
    words <- strsplit(readLines(path), " ")
    setNames(lapply(words, function(line) as.numeric(line[-1])),
             vapply(words, `[`, "", 1))
}

# Processor time, ms, of one `work`: the middle of some blocks of `least_ms` or more.
time_ms <- function(work, least_ms, blocks) {
    block <- function(times) {
        begin <- sum(proc.time()[1:2])
        for (i in seq_len(times)) work()
        1e3 * (sum(proc.time()[1:2]) - begin)
    }
    times <- 1
    while ((took <- block(times)) < least_ms) times <- 2 * times
    median(vapply(seq_len(blocks), function(i) if (i == 1) took else block(times), 0)) / times
}

# solve(rtol, share) gives a function that lives once and returns the end: the watched totals.
# Prints a line "name target rtol share ms error" for each target; FALSE when the method never
# comes within a thousandth of what is right, or never down to a target.
search <- function(name, solve, right, targets, rtols, shares, blocks = 9) {
    tried <- NULL
    for (rtol in rtols) {
        for (share in shares) {
            live <- solve(rtol, share)
            end <- rep(NaN, length(right))
            ms <- tryCatch(time_ms(function() end <<- live(), 30, 1), error = function(e) Inf)
            wrong <- max(abs(end / right - 1))
            if (is.finite(wrong) && wrong <= max(targets)) {
                tried <- rbind(tried, data.frame(rtol, share, wrong, ms))
            }
        }
        if (any(tried$wrong <= min(targets) / 10)) break
    }
    for (i in seq_along(targets)) {
        good <- tried[tried$wrong <= min(targets[i], 1e-3), ]
        if (NROW(good) == 0) {
            cat(sprintf("%s: no tolerance comes down to an error of %.2g\n", name, targets[i]),
                file = stderr())
            return(FALSE)
        }
        best <- good[which.min(good$ms), ]
        ms <- time_ms(solve(best$rtol, best$share), 100, blocks)
        cat(sprintf("%s %d %g %g %.6g %.3g\n", name, i, best$rtol, best$share, ms, best$wrong))
    }
    TRUE
}
