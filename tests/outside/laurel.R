# SPDX-License-Identifier: GPL-3.0-or-later
# The bay laurel of scenarios/evergreen-two-years.cfg in its bucket, written in R from
# docs/model.md: litres, nine ions, alkalinity; dry mass, root mass, leaf area, root depth,
# eight tissue contents; litres drunk, nine amounts eaten, dry mass made. What nothing here
# feels is left out: thermal time (the crop stays vegetative), thirst and litres evaporated.
source("tests/outside/estimates.R")
ions <- c("no3", "nh4", "p", "k", "ca", "mg", "so4", "na", "cl")
charge <- c(-1, 1, -1, 1, 2, 2, -2, 1, -1)

full <- 25
evaporates <- 0.03
# A truncated cone, 40 cm high, 29 cm wide below and 34 above; the net pot 9 cm deep.
wall <- (17 - 14.5) / 40
pot_floor <- 40 - 9
level_at <- function(volume) {
    ((14.5^3 + 3000 * wall * max(volume, 0) / pi)^(1 / 3) - 14.5) / wall
}

footprint <- 0.35
optimum <- c(1.4, 0.13, 0.75, 0.28, 0.12, 0.09)
turnover <- 0.0035
water_c <- 21

smooth <- function(x) if (x <= 0) 0 else if (x < 1) x * x * x * (10 + x * (6 * x - 15)) else 1
plateau <- function(t, base, from, to, ceiling) {
    smooth(min((t - base) / (from - base), (ceiling - t) / (ceiling - to)))
}
lesser <- function(a, b, width) 0.5 * (a + b - sqrt((a - b)^2 + 4 * width^2))
ramp <- function(x, width) {
    if (x <= -width) 0 else if (x < width) (x + width)^2 / (4 * width) else x
}

# What the lamp sets, and the air with it.
air <- function(temperature, humidity, light) {
    saturation <- 0.6108 * exp(17.27 * temperature / (temperature + 237.3))
    vapour <- humidity * saturation
    latent <- 2.501 - 0.002361 * temperature
    density <- 3.486 * 101.325 / ((temperature + 273.16) / (1 - 0.378 * vapour / 101.325))
    deficit <- saturation - vapour
    open <- min(max((1 + 4 / sqrt(max(deficit, 0.1))) / 5, 0.3), 1.6)
    stomata <- if (light > 0) 1.1 * 60 * (1500 + light) / (200 + light) else 1500
    list(slope = 17.27 * 237.3 * saturation / (temperature + 237.3)^2,
         psychrometric = 0.00163 * 101.325 / latent,
         litres = 0.0864 / latent * footprint, # in a day for each W/m2
         radiation = 0.95 * light / 5,
         drying = density * 1013 * deficit / 100,
         stomata = stomata / open,
         warmth = plateau(temperature, 8, 20, 28, 40),
         makes = 0.0864 * light * footprint * 0.55 / (1 + light / 1472) * roots_well *
             plateau(temperature, 8, 20, 28, 40),
         leaf = if (light > 0) 0.45 * 0.012 * (300 / light)^0.3 else 0)
}

kelvin <- water_c + 273.15
oxygen <- exp(-139.34411 + 157570.1 / kelvin - 66423080 / kelvin^2 + 1.2438e10 / kelvin^3 -
              8.621949e11 / kelvin^4)
roots_well <- plateau(water_c, 8, 22, 28, 38) * min(oxygen / (0.3 + oxygen) / 0.9, 1)
acidity <- acidity_at(water_c)
kinetics <- 1.6^((water_c - 25) / 10)
lamp <- list(off = air(18, 0.55, 0), on = air(23, 0.45, 300))

# The scarcest nutrient sets the pace; the corner between two is rounded.
nourished <- function(tissue, dry) {
    worst <- 1
    for (part in tissue[1:6] / (optimum * dry)) {
        factor <- smooth((part - 0.5) / 0.5)
        if (factor < 1) {
            worst <- lesser(worst, factor, 0.1 * worst * factor * (1 - worst) * (1 - factor))
        }
    }
    worst
}

# Never above supply or demand.
joint <- function(supply, demand) {
    if (supply <= 0 || demand <= 0) 0 else supply * demand / (supply^4 + demand^4)^0.25
}
wanted <- function(target, made, dry, content) {
    ramp(target * made + (target * dry - content) / 5, 1e-3 * target * dry)
}
# With the water, and actively what that leaves short.
carried <- function(c, selectivity, capacity, optimum, root, dry, content, made, drunk) {
    passive <- selectivity * c * drunk * smooth(1.5 * (1 - content / (3 * optimum * dry)))
    demand <- wanted(optimum, made, dry, content)
    if (demand + passive <= 0) return(0)
    lacking <- ramp(demand - passive, 0.02 * (demand + passive))
    passive + joint(capacity * root * c / (0.02 + c), lacking)
}
# root: grams in reach of water, scaled by their warmth.
eaten <- function(c, h, root, dry, tissue, made, drunk) {
    no3 <- c[1]
    nh4 <- c[2]
    p <- c[3]
    k <- c[4]
    n <- wanted(1.4 * (1 + 0.3 * no3 / (no3 + 15)), made, dry, tissue[1])
    as_nh4 <- (0.12 + 0.88 * 0.04 / (0.04 + no3)) * n * nh4 / (0.04 + nh4)
    eats_nh4 <- joint(4 * root * nh4 / (0.04 + nh4), as_nh4)
    cation <- 1 / (1 + (h / 1e-4)^1.5)
    anion <- 1 / (1 + (10^-8.8 / h)^0.75)
    c(anion * joint(8 * root * no3 / (0.03 + no3), n - eats_nh4),
      cation * eats_nh4,
      anion * joint(0.8 * root * p / (0.01 + p),
                    wanted(0.13 * (1 + p / (p + 1.5)), made, dry, tissue[2])),
      cation * joint(4 * root * k / (0.02 + k),
                     wanted(0.75 * (1 + 0.5 * k / (k + 8)), made, dry, tissue[3])),
      cation * carried(c[5], 0.35, 2, 0.28, root, dry, tissue[4], made, drunk),
      cation * carried(c[6], 0.3, 1, 0.12, root, dry, tissue[5], made, drunk),
      anion * carried(c[7], 0.25, 0.6, 0.09, root, dry, tissue[6], made, drunk),
      cation * 0.05 * c[8] * drunk * smooth(2 * (1 - tissue[7] / (0.2 * dry))),
      anion * 0.13 * c[9] * drunk * smooth(2 * (1 - tissue[8] / (0.4 * dry))))
}

# `now` is lamp$on or lamp$off.
rates <- function(day, y, now) {
    volume <- y[1]
    m <- y[2:10]
    m[m < 0] <- 0
    per_volume <- 1e-3 / max(volume, 1e-4 * full)
    m <- m * per_volume
    alkalinity <- y[11] * per_volume
    salt <- max(1 - 0.07 * ramp(ec_of(m, alkalinity) - 2.2, 0.1), 0)
    dry <- y[12]
    depth <- y[15]
    tissue <- y[16:23]
    leaves <- max(y[14], 0) / footprint
    caught <- 1 - exp(-0.6 * leaves)
    wet <- smooth((level_at(volume) - max(pot_floor - depth, 0)) / 3)

    stomata <- now$stomata / (1 - 0.5 * (1 - salt))
    layers <- lesser(leaves, 3, 0.005 * leaves)
    drunk <- wet * now$litres * (now$slope * now$radiation * caught + now$drying * layers) /
        (now$slope + now$psychrometric * (1 + stomata / 100))
    made <- now$makes * caught * salt^0.6 * nourished(tissue, dry) * wet
    eats <- eaten(1e3 * m, hydrogen(acidity, alkalinity, m[3]), max(y[13], 0) * kinetics * wet, dry,
                  tissue, made, drunk)

    by_mass <- now$leaf * made
    spread <- if (by_mass > 0) lesser(by_mass, 0.3 * y[14] * now$warmth, 0.05 * by_mass) else 0
    leaf <- max(spread, 0) * max(1 - (leaves / 4)^8, 0)
    list(c(-drunk - evaporates * smooth(volume / (0.02 * full)), -eats, -sum(charge * eats),
           made - turnover * dry, 0.2 * made - turnover * y[13], leaf - turnover * y[14],
           0.8 * now$warmth * smooth((pot_floor - depth) / 2),
           c(eats[1] + eats[2], eats[3:9]) - turnover * tissue, drunk, eats, made))
}

# A quarter of what is above the roots is cut, with what it holds.
cut <- function(y) {
    kept <- 1 - 0.25 * (1 - y[13] / y[12])
    y[14] <- 0.75 * y[14]
    y[c(12, 16:23)] <- kept * y[c(12, 16:23)]
    y
}
start_plant <- 6 * c(1, 0.2, 0.45 * 0.012, 10 / 6, optimum, 0, 0)
totals <- 24:34

# The lamp burns from 7 to 20 o'clock; cuts come twice a year.
burns <- c(7, 20) / 24
cuts <- seq(180, 720, by = 180)
moments <- function(visits, days) sort(c(outer(burns, seq_len(days) - 1, "+"), visits, cuts))

# A life in one call of deSolve: rows of time and state; a visit fills up with `poured`.
live <- function(first, times, visits, poured, days, ...) {
    now <- lamp$off
    act <- function(day, y, parameters) {
        hour <- (day + 1e-9) %% 1
        now <<- if (hour >= burns[1] && hour < burns[2]) lamp$on else lamp$off
        if (any(day == visits)) y[1:11] <- y[1:11] + (full - y[1]) * c(1, poured)
        if (any(day == cuts)) y <- cut(y)
        y
    }
    acts <- list(func = act, time = moments(visits, days))
    ode(c(first, start_plant, 0 * totals), sort(unique(c(0, acts$time, times, days))),
        function(day, y, parameters) rates(day, y, now), NULL, events = acts, maxsteps = 1e6, ...)
}
