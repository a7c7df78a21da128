package typec_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"testing/fstest"

	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/typec"
)

// A machine's own ports are typec.Read(os.DirFS("/sys/class/typec")).
func ExampleRead() {
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text + "\n")} }
	class := fstest.MapFS{
		"port0/data_role":                         file("[host] device"),
		"port0-cable/plug_type":                   file("type-c"),
		"port0-cable/usb_power_delivery_revision": file("3.0"),
		"port0-cable/identity/id_header":          file("0x18602fa1"),
		"port0-cable/identity/cert_stat":          file("0x00000000"),
		"port0-cable/identity/product":            file("0x01020100"),
		"port0-cable/identity/product_type_vdo1":  file("0x00082043"),
		"port0-cable/identity/product_type_vdo2":  file("0x00000000"),
		"port0-cable/identity/product_type_vdo3":  file("0x00000000"),
		"port1/data_role":                         file("[host] device"),
	}
	ports, err := typec.Read(class)
	if err != nil {
		fmt.Println(err)
	}
	for _, p := range ports {
		for _, problem := range p.Problems {
			fmt.Println(problem, "/", errors.Is(problem, typec.ErrNoCable))
		}
		if p.Cable == nil {
			continue
		}
		for _, m := range p.Cable.Messages() {
			fmt.Printf("%s, %s plug: %08X\n", p.Name, m.Plug, m.Words)
			s := vdo.Summarize(vdo.Decode(m.Words, m.Context()))
			fmt.Println(s.Product.Or(0), s.Amps.Or(0), "A", s.Speed.Or(0))
		}
	}
	// Output:
	// port0, near plug: [18602FA1 00000000 01020100 00082043]
	// passive cable 5 A USB4 Gen 3
	// port1: no cable is shown, and nothing is plugged in; plug in a cable with a device or charger at its other end / true
}

// Nothing that is wrong with one attribute hides another.
func ExampleProblem() {
	file := func(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text + "\n")} }
	ports, err := typec.Read(fstest.MapFS{
		"port0-cable/plug_type":          file("type-c"),
		"port0-cable/identity/id_header": file("0x18602fa1"),
		"port0-cable/identity/cert_stat": file("none"),
		"port0/data_role":                file("[host] device"),
	})
	fmt.Println(len(ports), err)
	for _, problem := range ports[0].Cable.Problems {
		fmt.Println(problem.Path, errors.Is(problem, typec.ErrMalformed), errors.Is(problem, fs.ErrNotExist))
	}
	_, err = typec.Read(os.DirFS("testdata/nothing-here"))
	var none *typec.Problem
	fmt.Println(errors.Is(err, typec.ErrNoClass), errors.As(err, &none), errors.Is(err, fs.ErrNotExist))
	// Output:
	// 1 <nil>
	// port0-cable/identity/cert_stat true false
	// true true true
}
