package wire_test

import (
	"fmt"

	"tremblant/internal/wire"
)

func ExampleRead() {
	v, _ := wire.Read(`{"name":"Tea jelly","doses":[{"agent":"agar","share":0.6}],"new":1}`, wire.Limits{})
	f := v.Fields()
	name := f.Text("name", 200)
	for _, item := range f.Items("doses", 50) {
		dose := f.Into(item)
		fmt.Println(name, dose.Text("agent", 50), dose.Float("share", 0, 100))
	}
	fmt.Println(f.Err(), len(f.Rest()))
	// Output:
	// Tea jelly agar 0.6
	// <nil> 1
}

func ExampleRead_refusal() {
	_, err := wire.Read("{\n  \"name\": \"Tea jelly\",\n  \"doses\": [0.6, oops]\n}", wire.Limits{})
	fmt.Println(err)
	// Output:
	// wire: unexpected character at 3:18 /doses/1
}

func ExampleWriter() {
	w := wire.NewWriter()
	w.BeginObject()
	w.Name("name").Text("Tea jelly")
	w.Name("share").Float(0.6)
	w.EndObject()
	text, err := w.Bytes()
	fmt.Println(string(text), err)
	// Output:
	// {"name":"Tea jelly","share":0.6} <nil>
}
