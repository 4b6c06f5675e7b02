// Package agent is the catalogue of what sets, thickens or foams a liquid:
// hydrocolloids, proteins, starches, emulsifiers and the calcium salts that set
// some of them.
//
// One [Agent] is one record: who it is (name, E-number, diet, allergens), how it
// is dispersed and hydrated, how it sets and melts, how it feels, what it stands
// (acid, sugar, salt, alcohol, enzymes), the dose windows for each texture, and
// the parameters of its firmness model. A [Pair] is two agents that do together
// what neither does alone. Rules elsewhere ask records for their properties, so that
// a new agent is one more record; where a model has tables of its own (kinds of
// foam, emulsifiers), these name agents by [ID].
//
// Every figure carries a [Cite], a number into the table of sources; its
// [source.Tag] says how far it can be trusted. Fractions here are of the
// finished mix, in grams per 100 g (the unit that dose tables are printed in);
// temperatures are in °C, ions in mmol per kg of liquid, sugar in °Brix,
// alcohol in % vol.
package agent
