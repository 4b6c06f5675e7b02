// Package liquid builds the liquid in the pan from what went into it and tells
// what matters to a gel or a foam: pH, °Brix, alcohol, salt, calcium, fat,
// protein, density and boiling point, each with a range and with the
// ingredients that drive it.
//
// # The model
//
// An [Ingredient] is a composition per 100 g with a pH range. A recipe is a
// list of [Step] values (add, infuse, strain, reduce, dilute, blend, measure)
// that [Run] carries out in order on one well-mixed liquid. Every constituent
// has its own mass balance; nothing is rescaled behind it. Ingredients stay
// apart as portions of the liquid, so that every figure can be traced back.
//
// pH comes from one charge balance over all weak acids, phosphate, carbonate
// and the side groups of proteins, with Davies activities. What a composition
// table does not know (chloride, sulphate, bound metals) is one number, the
// strong-ion difference (SID): it is the value that makes an ingredient's own
// acids agree with its own pH, and it adds up on mixing like a mass.
//
// Ranges come from varying one uncertain input at a time (each ingredient's pH,
// acids, sugars, minerals, alcohol) and adding the changes in quadrature.
//
// All functions are pure. Wrong input gives a *note.Refusal, never NaN.
package liquid
