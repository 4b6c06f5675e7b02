package liquid

import "tremblant/internal/source"

// sourceID picks a source from the table; catalogue rows stay small so.
type sourceID uint8

const (
	srcNone sourceID = iota
	srcSR28
	srcFDA
	srcIFT
	srcMinteq
	srcThermoChimie
	srcGoldberg
	srcHandbook
	srcPenniston
	srcKaradeniz
	srcKrueger
	srcSensoy
	srcFox
	srcFitted
	srcAdjusted
	srcDerived
	srcChemistry
	srcMemory
	srcPractice
	srcOwn
	srcOIML
	srcICUMSA
	srcBrixPage
	srcBrowne
	srcRetention
	srcUSGS
	srcChoiOkos
	srcVolumes
	srcFoodCode
	srcGarlicOil
	srcEggAdvice

	numSources
)

var sources = [numSources]source.Ref{
	srcSR28:         {Tag: source.Open, Text: "USDA National Nutrient Database for Standard Reference, Release 28 (2015-2016)"},
	srcFDA:          {Tag: source.Published, Text: "US FDA/CFSAN, Approximate pH of Foods and Food Products (April 2007), read in a copy"},
	srcIFT:          {Tag: source.Published, Text: "IFT/FDA, Evaluation and Definition of Potentially Hazardous Foods (2003), table 3-3, read in a copy"},
	srcMinteq:       {Tag: source.Published, Text: "US EPA MINTEQA2 version 4 thermodynamic database, as distributed with PHREEQC 3"},
	srcThermoChimie: {Tag: source.Published, Text: "ThermoChimie v10a, as distributed with PHREEQC 3 (4.25); 1.25 and 4.266 from memory of a handbook"},
	srcGoldberg:     {Tag: source.Memory, Text: "Goldberg, Kishore & Lennen, J. Phys. Chem. Ref. Data 31 (2002) 231"},
	srcHandbook:     {Tag: source.Memory, Text: "believed CRC Handbook of Chemistry and Physics, dissociation tables"},
	srcPenniston:    {Tag: source.Published, Text: "chief acid: Penniston et al., J. Endourol. 22 (2008) 567, abstract; lesser acids from memory"},
	srcKaradeniz:    {Tag: source.Published, Text: "chief acid: Karadeniz, Turk. J. Agric. For. 28 (2004) 267, abstract; lesser acids from memory"},
	srcKrueger:      {Tag: source.Published, Text: "chief acid: Krueger Food Laboratories, note on organic acids; lesser acids from memory"},
	srcSensoy:       {Tag: source.Published, Text: "chief acid: Sensoy et al., Acta Hort. 1089 (2013) 77, abstract; lesser acids from memory"},
	srcFox:          {Tag: source.Published, Text: "Fox & McSweeney, Dairy Chemistry and Biochemistry, tables of milk salts"},
	srcFitted:       {Tag: source.Derived, Text: "titratable acid of Belitz, Grosch & Schieberle, table 18.3, split between acids from memory and lowered where the minerals would not carry it"},
	srcAdjusted:     {Tag: source.Memory, Text: "row of the US FDA list or of Belitz, Grosch & Schieberle, table 18.3, its range adjusted from memory"},
	srcDerived:      {Tag: source.Derived, Text: "computed from the composition and its acids"},
	srcChemistry:    {Tag: source.Derived, Text: "stoichiometry of the pure substance"},
	srcMemory:       {Tag: source.Memory, Text: "typical composition, from memory; no document at hand"},
	srcPractice:     {Tag: source.Practice},
	srcOwn:          {Tag: source.Practice, Text: "typed in by the user"},
	srcOIML:         {Tag: source.Published, Text: "OIML R 22 (1975), International Alcoholometric Tables, general formula"},
	srcICUMSA:       {Tag: source.Published, Text: "Bubnik et al., Sugar Technologists Manual (1995), sucrose density, read in a copy"},
	srcBrixPage:     {Tag: source.Tertiary, Text: "encyclopedia page on Brix, polynomial of the ICUMSA refractive index table"},
	srcBrowne:       {Tag: source.Tertiary, Text: "Browne (1912), boiling point elevation of sugar solutions, on a web table"},
	srcRetention:    {Tag: source.Tertiary, Text: "USDA Table of Nutrient Retention Factors, Release 6 (2007), alcohol rows on three pages that agree"},
	srcUSGS:         {Tag: source.Tertiary, Text: "US Geological Survey, classes of water hardness"},
	srcChoiOkos:     {Tag: source.Published, Text: "Choi & Okos (1986) component equations, read in a copy"},
	srcVolumes:      {Tag: source.Derived, Text: "sum over the constituents; sucrose by Bubnik et al. (1995), ethanol by OIML R 22 (1975), brine by Poradnik fizykochemiczny (1974), apparent volumes and refractometer weights of the rest from memory"},
	srcFoodCode:     {Tag: source.Published, Text: "US FDA Food Code, 1-201.10(B), and 21 CFR 114.3: low-acid is pH above 4.6"},
	srcGarlicOil:    {Tag: source.Published, Text: "Oklahoma State University extension, from University of Idaho work on herbs and garlic in oil"},
	srcEggAdvice:    {Tag: source.Tertiary, Text: "UK Food Standards Agency advice on raw eggs since October 2017"},
}

func (s sourceID) ref() source.Ref {
	if s >= numSources {
		return source.Ref{}
	}
	return sources[s]
}

// propertySources are where the rule behind each property comes from.
var propertySources = [NumProperties]sourceID{
	PropPH: srcMinteq, PropBrix: srcVolumes, PropReading: srcBrixPage, PropABV: srcOIML, PropABW: srcOIML, PropSalt: srcChemistry,
	PropFreeCalcium: srcFox, PropTitratable: srcMinteq, PropDensity: srcVolumes, PropBoiling: srcBrowne, PropHeat: srcChoiOkos,
}

// Source is where the rule behind the property comes from; for those that are a
// plain sum over the ingredients it is the zero Ref, and the ingredients' own
// sources stand behind it.
func (p Property) Source() source.Ref {
	if p >= NumProperties {
		return source.Ref{}
	}
	return propertySources[p].ref()
}

// Source is where the classes of hardness come from.
func (c HardnessClass) Source() source.Ref { return srcUSGS.ref() }
