package liquid

// shelves are the parts of the catalogue, in the order of lists. Nobody writes
// to them.
var shelves = [...][]Ingredient{
	catalogueWaters[:], catalogueDairy[:], catalogueFruit[:], catalogueVegetables[:], catalogueStocks[:],
	catalogueDrinks[:], cataloguePlant[:], catalogueSugars[:], cataloguePures[:],
}

// Catalogue is all ingredients of the catalogue, in the order of lists. The
// slice is the caller's own.
func Catalogue() []Ingredient {
	n := 0
	for _, shelf := range shelves {
		n += len(shelf)
	}
	all := make([]Ingredient, 0, n)
	for _, shelf := range shelves {
		all = append(all, shelf...)
	}
	return all
}

// ByID is the catalogue's ingredient with that stable name.
func ByID(id string) (Ingredient, bool) {
	for _, shelf := range shelves {
		for i := range shelf {
			if shelf[i].ID == id {
				return shelf[i], true
			}
		}
	}
	return Ingredient{}, false
}
