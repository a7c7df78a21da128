package shelf_test

import (
	"errors"
	"fmt"
	"os"

	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/claims/record"
	"example.com/gainsay/claims/rules"
	"example.com/gainsay/claims/shelf"
)

// stock sets the example records on a shelf.
func stock() *shelf.Shelf {
	all := &shelf.Shelf{}
	for _, name := range []string{"all-agree-100w", "marker-240w-copper-3a", "unmarked-100w"} {
		f, err := os.Open("../../examples/records/" + name + ".yaml")
		if err != nil {
			fmt.Println(err)
			continue
		}
		for rec, err := range record.Read(f, name) {
			if err != nil {
				fmt.Println(err)
				continue
			}
			c, err := rules.Checker().Case(rec, nil)
			if err != nil {
				fmt.Println(err)
				continue
			}
			all.Add(shelf.NewItem(c, c.Report()))
		}
		f.Close()
	}
	return all
}

func Example() {
	all := stock()
	condition, err := shelf.ParseFilter("against>0")
	if err != nil {
		fmt.Println(err)
		return
	}
	order, err := shelf.ParseOrder("-shown,cable")
	if err != nil {
		fmt.Println(err)
		return
	}
	items := all.Where(condition).Items()
	shelf.Sort(items, order)
	for _, it := range items {
		fmt.Println(it.Cable, it.Rating.PowerW, "W")
	}
	s := all.Summary(shelf.DefaultBands()...)
	fmt.Println(s.Records, "records,", s.Contradicted, "with a contradiction or a breach")
	// Output:
	// NF-014 60 W
	// NF-027 60 W
	// 3 records, 2 with a contradiction or a breach
}

func ExampleLoad_Hold() {
	load, err := shelf.ParseLoad("20 V 4.5 A")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range load.Hold(stock().Items()) {
		fmt.Printf("%s: %s\n", h.Item.Cable, h.Fit())
	}
	// Output:
	// NF-001: fit
	// NF-014: not fit
	// NF-027: not fit
}

// What cannot be read has a cause; below it is what quantity says, where a number
// with its unit is wrong.
func ExampleParseFilter_errors() {
	_, err := shelf.ParseFilter("shown>=60 m")
	fmt.Println(errors.Is(err, shelf.ErrCondition), errors.Is(err, quantity.ErrDimension))

	_, err = shelf.ParseFilter("weight>10")
	var bad *shelf.Error
	if errors.As(err, &bad) && errors.Is(err, shelf.ErrColumn) {
		fmt.Printf("%s: %s\n", bad.Text, bad.Wrong)
	}
	_, err = shelf.ParseLoad("300 W")
	fmt.Println(errors.Is(err, shelf.ErrLoad), err)
	_, err = shelf.ParseBands("10,5")
	fmt.Println(errors.Is(err, shelf.ErrBands), err)
	// Output:
	// true true
	// weight>10: no column is called "weight"
	// true "300 W": no published level gives so much; the highest is 240 W (48 V, 5 A); write it like "20 V 3.25 A" or "65 W"
	// true "10,5": "5" is no price above the one before; write rising numbers, as "5,10,20"
}

func ExampleClopperPearson() {
	low, high := shelf.ClopperPearson(2, 20, shelf.Confidence)
	fmt.Printf("2 of 20: %.1f to %.1f %%\n", 100*low, 100*high)
	// Output: 2 of 20: 1.2 to 31.7 %
}
