package wire

import "slices"

// Graft hands on what a newer program has written, at any depth: it returns now
// with those members of old that are not in known. Old is a text as it stood;
// known is the same after this program has read it and written it again, so that
// it lacks what this program does not know; now is what has become of it here.
// Elements of an array that are objects are the same in old and now when they
// are alike, when their first members are, or when they stand at the same place
// and any member of theirs is. What is gone from now takes along what was in it.
func Graft(now, old, known Value) Value {
	now.kids = slices.Clone(now.kids)
	if now.kind == Array && len(known.kids) == len(old.kids) {
		graftItems(now, old, known)
	}
	if now.kind != Object || old.kind != Object {
		return now
	}
	for _, m := range old.kids {
		was, understood := known.Member(m.Name)
		i := slices.IndexFunc(now.kids, func(n Member) bool { return n.Name == m.Name })
		if i >= 0 {
			now.kids[i].Value = Graft(now.kids[i].Value, m.Value, was)
		} else if !understood {
			now.kids = append(now.kids, m)
		}
	}
	return now
}

// graftItems pairs the elements off, those that are most alike first.
func graftItems(now, old, known Value) {
	free := slices.Repeat([]bool{true}, len(old.kids))
	open := slices.Repeat([]bool{true}, len(now.kids))
	for pass := range 4 {
		for i := range now.kids {
			for j := range old.kids {
				n, was := now.kids[i].Value, known.kids[j].Value
				if n.kind == Object && open[i] && free[j] && alike(n, was, pass, i == j) {
					now.kids[i].Value = Graft(n, old.kids[j].Value, was)
					open[i], free[j] = false, false
				}
			}
		}
	}
}

func alike(a, b Value, pass int, samePlace bool) bool {
	if pass < 2 {
		return (pass == 1 || samePlace) && a.Equal(b)
	}
	for i := range a.kids {
		v, ok := b.Member(a.kids[i].Name)
		if same := ok && v.Equal(a.kids[i].Value); same || pass == 2 {
			return same && (pass == 2 || samePlace)
		}
	}
	return false
}
