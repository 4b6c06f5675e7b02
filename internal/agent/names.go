package agent

// named is what an agent is called in typed lists: its id, and its names between
// bars, English first, then French, Spanish and German; at the end its E-number
// where no other agent shares it.
type named struct {
	id    ID
	names string
}

// names is kept apart from the records, so that a program that only recognises
// agents does not carry the whole catalogue. It holds the agents in catalogue
// order; a test compares the two.
var names = [...]named{
	{"agar", "agar|agar-agar|agar agar|kanten|agar powder|agar flakes|agar en poudre|gélose|algas agar|agar en polvo|agar-agar-pulver|powdered agar|agar-agar powder|agar-agar en poudre|poudre d'agar|agar-agar en polvo|agarpulver|E 406"},
	{"gelatin", "gelatin|gelatine|gelatin powder|leaf gelatin|sheet gelatin|gelatin sheets|gelatin leaves|leaf gelatine|gelatine leaves|gelatine sheets|beef gelatin|pork gelatin|fish gelatin|gélatine|feuilles de gélatine|gelatina|gelatina en hojas|hojas de gelatina|colapez|blattgelatine|gelatineblatt|gelatineblätter|gelatine powder|powdered gelatin|powdered gelatine|gelatin leaf|gelatine leaf|beef gelatine|pork gelatine|fish gelatine|gélatine en poudre|poudre de gélatine|gélatine en feuilles|gélatine de porc|gélatine de bœuf|gélatine de poisson|gelatina en polvo|gelatina neutra|gelatina neutra en polvo|gelatina de cerdo|gelatina de vacuno|gelatina de pescado|cola de pescado|colas de pescado|gelatinepulver|pulvergelatine|gemahlene gelatine|speisegelatine|weiße gelatine|rote gelatine|schweinegelatine|rindergelatine|fischgelatine"},
	{"gellan-la", "low-acyl gellan|gellan|gellan gum|gellan low acyl|gellan la|la gellan|gomme gellane|gellane bas acyle|goma gellan|gellan acilo bajo|goma gellan bajo acilo|gellan bajo acilo|gellan gum low acyl|low acyl gellan gum|gellane|gomme gellan|gomme gellane bas acyle|gellane la|gellane low acyl"},
	{"gellan-ha", "high-acyl gellan|gellan high acyl|gellan ha|ha gellan|gellane haut acyle|gellan acilo alto|goma gellan alto acilo|gellan alto acilo|gellan gum high acyl|high acyl gellan gum|gomme gellane haut acyle|gomme gellan haut acyle|goma gellan de alto acilo|gellane ha|gellane high acyl"},
	{"carr-kappa", "kappa carrageenan|kappa|carrageenan kappa|carrageenan|carrageen|k-carrageenan|κ-carrageenan|carraghénane kappa|kappa carraghénane|carragenina kappa|carragenano kappa|kappa-carrageen|carragenato kappa"},
	{"carr-iota", "iota carrageenan|iota|carrageenan iota|i-carrageenan|ι-carrageenan|carraghénane iota|iota carraghénane|carragenina iota|carragenano iota|iota-carrageen|carragenato iota"},
	{"carr-lambda", "lambda carrageenan|lambda|carrageenan lambda|λ-carrageenan|carraghénane lambda|carragenina lambda|carragenano lambda|lambda-carrageen|carragenato lambda"},
	{"alginate", "sodium alginate|alginate|algin|alginate de sodium|alginato|alginato de sodio|natriumalginat|alginat|alginato sódico|E 401"},
	{"pectin-hm", "high-methoxyl pectin|pectin hm|hm pectin|pectin|yellow pectin|jam pectin|pectine|pectine hm|pectine jaune|pectina|pectina hm|pectina de alto metoxilo|pektin|pektin hm|apple pectin|pectine de pomme|pectina amarilla|pectina de manzana|apfelpektin|gelbes pektin"},
	{"pectin-lm", "low-methoxyl pectin|pectin lm|lm pectin|low sugar pectin|pectine lm|pectina lm|pectina de bajo metoxilo|pektin lm"},
	{"pectin-lma", "amidated pectin|amidated low-methoxyl pectin|pectin lma|lma pectin|pectin nh|nh pectin|pectine nh|pectine amidée|pectina nh|pectina amidada|amidiertes pektin|pektin lma|pektin nh|E 440(ii)"},
	{"mc", "methylcellulose|methyl cellulose|mc|méthylcellulose|metilcelulosa|methylzellulose"},
	{"mc-low", "methylcellulose, low temperature|methylcellulose, low-temperature class|low-temperature methylcellulose|high-strength methylcellulose|mc low|méthylcellulose basse température|metilcelulosa de baja temperatura|methylcellulose, niedrige temperatur"},
	{"hpmc", "hydroxypropyl methylcellulose|hpmc|hypromellose|hydroxypropylméthylcellulose|hidroxipropilmetilcelulosa|hydroxypropylmethylcellulose|E 464"},
	{"xanthan", "xanthan|xanthan gum|xanthane|gomme xanthane|xantana|goma xantana|goma xantan|xanthangummi|gomme de xanthane|goma de xantana|xanthan gum powder|E 415"},
	{"guar", "guar|guar gum|gomme de guar|gomme guar|goma guar|guarkernmehl|E 412"},
	{"lbg", "locust bean gum|lbg|carob gum|carob bean gum|caroube|gomme de caroube|farine de graines de caroube|garrofín|goma garrofín|goma de garrofín|johannisbrotkernmehl|gomme de caroubier|E 410|farine de caroube"},
	{"tara", "tara|tara gum|gomme tara|gomme de tara|goma tara|tarakernmehl|E 417"},
	{"konjac", "konjac|konjac glucomannan|konjac gum|glucomannan|konnyaku powder|gomme de konjac|glucomanano|glucomanano de konjac|goma konjac|konjakmehl|E 425|konjak|konjakpulver|konjak-glucomannan"},
	{"cmc", "carboxymethylcellulose|cmc|cellulose gum|cellulose gum (cmc)|sodium carboxymethylcellulose|gomme de cellulose|carboximetilcelulosa|goma de celulosa|E 466"},
	{"arabic", "gum arabic|acacia gum|gum acacia|arabic|gomme arabique|gomme d'acacia|goma arábiga|gummi arabicum|E 414"},
	{"corn-starch", "corn starch|cornstarch|cornflour|maize starch|fécule de maïs|amidon de maïs|almidón de maíz|maisstärke|speisestärke"},
	{"tapioca-starch", "tapioca starch|tapioca|tapioca flour|cassava starch|manioc starch|fécule de tapioca|fécule de manioc|almidón de tapioca|almidón de yuca|tapiokastärke"},
	{"waxy-maize", "waxy maize starch|waxy maize|waxy corn starch|amidon de maïs cireux|almidón de maíz ceroso|wachsmaisstärke"},
	{"waxy-stable", "acid-stable starch|acid-stable modified starch|acid stable starch|modified waxy maize|modified starch|hydroxypropyl distarch phosphate|amidon modifié|amidon modifié stable à l'acide|almidón modificado|almidón modificado estable al ácido|modifizierte stärke|E 1442"},
	{"pregel", "pregelatinised starch|pregelatinized starch|instant starch|cold-swelling starch|amidon prégélatinisé|almidón pregelatinizado|quellstärke"},
	{"lecithin", "soy lecithin|lecithin|soya lecithin|lecithin powder|lécithine|lécithine de soja|lecitina|lecitina de soja|sojalecithin|powdered soy lecithin|soja-lezithin|sojalezithin|lezithin|E 322"},
	{"sucrose-esters", "sucrose esters|sugar esters|sucrose ester|sucroesters|sucroésters|sucroésteres|ésteres de sacarosa|zuckerester|E 473"},
	{"eggwhite", "dried egg white|egg white|egg white powder|albumen|albumin powder|albumine|blanc d'œuf en poudre|blanc d'oeuf|clara de huevo|clara de huevo en polvo|albúmina|eiweißpulver|eiklar|clara en polvo|clara de huevo deshidratada|albúmina en polvo|albumine en poudre|poudre de blanc d'œuf"},
	{"milkprotein", "sodium caseinate|caseinate|milk protein|caséinate|caséinate de sodium|protéines de lait|caseinato|caseinato de sodio|proteína de leche|natriumcaseinat|milchprotein"},
	{"whey", "whey protein isolate|whey protein|wpi|whey|protéines de lactosérum|isolat de protéines de lactosérum|proteína de suero|aislado de proteína de suero|molkenprotein"},
	{"foam-stab", "cold-soluble foam stabiliser|foam stabiliser|foam stabilizer|cold foam powder|stabilisant pour mousse|espumante en frío|estabilizante de espuma|schaumstabilisator"},
	{"ca-chloride", "calcium chloride|cacl2|calcium|chlorure de calcium|cloruro de calcio|calciumchlorid|cloruro cálcico|kalziumchlorid|E 509"},
	{"ca-lactate", "calcium lactate|lactate de calcium|lactato de calcio|lactato cálcico|calciumlactat|kalziumlaktat"},
	{"ca-lg", "calcium lactate gluconate|lactate gluconate|gluconolactate|calcium gluconolactate|gluconolactate de calcium|gluconolactato|gluconolactato de calcio|calciumlactatgluconat|E 578"},
}

// IDs returns the ids of all agents in catalogue order.
func IDs() []ID {
	ids := make([]ID, len(names))
	for i, n := range names {
		ids[i] = n.id
	}
	return ids
}
