// Package foam computes siphon foams: how much N2O goes where, what pressure and
// expansion follow, how many charges and fillings an evening takes, and what may
// hurt somebody on the way.
//
// # The gas
//
// A siphon holds m kg of base of density ρ in a body of V brimful. N charges of
// 8 g bring n = N·η·0.008/0.0440128 mol, η of it past the coupling. The gas is in
// the headspace and dissolved:
//
//	n = n_g(p) + m·c(p)
//	n_g = p·V_h/(RT + B·p)                  V_h = V - m/ρ
//	f   = p·exp(B·p/RT)                     fugacity, second virial coefficient
//	c   = w·K0/1 atm·f·exp[v(1 atm - p - p_air)/RT] + x_f·S_f·f
//
// with w the share of water (alcohol counted in, salt by the factor of sea
// water), K0 of Weiss & Price (1980), v = 32.3 cm³/mol, x_f and S_f share of fat
// and what a kilogram of it takes. Milk fat that has crystallised in the cold
// takes a fifth of what it takes liquid, so a cold cream holds less gas than a
// vegetable juice, at a higher pressure. The air shut in at one atmosphere stays
// in the headspace, p_air = n_air·RT/V_h, so the gauge shows p as long as nothing
// is let out and the temperature stays. n_g + m·c rises with p: the root is
// bracketed and bisected, and cannot be missed. What would be above the pressure
// at which N2O turns liquid is given as liquid.
//
// Right after charging nothing is dissolved yet. The head then sees all the new
// gas in the headspace: too dense for one virial coefficient, so this pressure
// comes from the equation of state of Lemmon & Span (2006). It agrees with the
// reference figures computed elsewhere with the same equation to their rounding,
// 0.1 bar, and with the virial series of NIST within 0.4 % up to 1 mol/l.
//
// As base goes out with its gas, the rest shaken all the while, dn/dm = -c(p) and
// V_h grows by dm/ρ: fourth-order Runge-Kutta on the moles left, the equilibrium
// solved at every stage. Twenty steps agree with two thousand to five figures.
//
// A litre of base that comes out at p sets at most G = (c - c1)·RT·ρ/1 atm litres
// of gas free, c1 being what it keeps at one atmosphere: the upper bound of the
// overrun. Foams are seen to reach about 0.4 to 0.7 of it (a guess of the trade).
//
// Left out, each under 0.5 % of p: air dissolving, water vapour, the cross virial
// coefficient; swelling of the base by dissolved gas is 0.9 %. Above 40 °C K0 is
// an extrapolation, 4 to 7 % high. A temperature of the gas other than the base's
// is not modelled.
//
// # Spread
//
// Brim volume, water share, charge, transfer, K0 and fat solubility have low and
// high ends. Each is moved alone; rises and falls are added by squares. No chance
// is involved: the same inputs give the same range.
//
// # Charges and fillings
//
// The trade's rule counts charges by nominal size. The gas balance asks for the
// fewest charges with which 0.55 of the mean bound reaches the low end of what
// the foam is expected to give. Both are told. No advice goes over the fill line,
// over the size's largest count, or over a stated working pressure, before or
// after shaking, at the high end of the spread. A plan searches all ways to fill
// the bodies for the fewest chargers, then rounds, then fillings.
// Where that takes several rounds, or drives a body without a stated pressure over
// what is usual, it is planned again without the smallest bodies, and the plan
// that is driven less high, or takes fewer rounds, is kept.
//
// # Trust
//
// Every constant and window carries a source. Doses from handbooks are from
// memory, most expansions are kitchen lore and are called a rule of thumb until
// the cook's own cup test replaces them. The pressures are good to about ±10 %
// cold and ±20 % hot when brim volume and charge loss are guessed.
package foam
