package quantity_test

import (
	"fmt"

	"pinphase.org/pinphase/timing/quantity"
)

// Values are kept in one unit and shown in the reader's. An inch is 25.4 mm exactly
// (NIST SP 811, B.8).
func Example() {
	fmt.Println(quantity.Convert(4, "in", quantity.MM), "mm")
	fmt.Println(quantity.WithoutUnit("192 mm"))
	fmt.Println(quantity.Length(101.6, 1))
	// Output:
	// 101.6 mm
	// 192 true
	// 101.6 mm
}
