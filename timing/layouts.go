package timing

import "slices"

// Layout is a way in which engines are built, with what it says of firing.
// Cylinders are numbered as the maker numbers them: for engines in a V an order
// without the maker's numbering says little, and the service manual decides.
type Layout struct {
	Cylinders int
	Bank      Deg   // between the two banks of a V; 0: inline
	Pins      []Deg // of an inline engine whose pins are not evenly spaced over the cycle: by cylinder, after the first
	Order     []int // nil: no order is common
	Memory    bool  // the order is from memory; else it stands in general published lists
	Intervals []Deg // nil: even
}

// Layouts returns four-stroke engines in the order in which to offer them.
// Intervals follow from the places of the pins and the angle of the banks, with
// two rods on a pin; see [VIntervals].
func Layouts() []Layout {
	var list []Layout
	for _, n := range []int{1, 2, 3, 4, 5, 6, 8} {
		for i, order := range commonOrders[n] {
			switch {
			case n == 8 && i < 2: // of engines in a V
				continue
			case n == 2:
				list = append(list, Layout{Cylinders: 2, Pins: []Deg{0, 0}, Order: order},
					Layout{Cylinders: 2, Pins: []Deg{0, 180}, Order: order, Intervals: []Deg{180, 540}})
				continue
			}
			list = append(list, Layout{Cylinders: n, Order: order, Memory: i > 0})
		}
	}
	list = append(list, Layout{Cylinders: 4, Pins: []Deg{0, 90, 270, 180}, Order: []int{1, 3, 2, 4}, Memory: true, Intervals: []Deg{270, 180, 90, 180}})
	for _, v := range []struct {
		cylinders int
		bank      Deg
	}{{2, 45}, {2, 60}, {2, 90}, {6, 90}, {6, 120}, {8, 90}, {10, 72}, {10, 90}, {12, 60}, {12, 90}, {16, 45}} {
		l := Layout{Cylinders: v.cylinders, Bank: v.bank, Intervals: VIntervals(v.cylinders, v.bank)}
		var orders [][]int
		if v.cylinders != 6 { // the common ones of six are of engines in a row
			orders = commonOrders[v.cylinders]
		}
		if v.cylinders == 8 {
			orders = orders[:2]
		}
		if len(orders) == 0 {
			list = append(list, l)
		}
		for i, order := range orders {
			l.Order, l.Memory = order, i > 0
			list = append(list, l)
		}
	}
	for i := range list {
		list[i].Order = slices.Clone(list[i].Order)
		list[i].Intervals = slices.Clone(list[i].Intervals)
	}
	return list
}

// VIntervals returns the firing intervals of a four-stroke V with two rods on
// each of evenly spaced pins; nil when they are even. The banks fire in turn: the
// second comes the banks' angle after the first, and the pins come round every
// 1440°/cylinders. With a single pin the second cylinder waits a turn less the
// banks' angle. cylinders is even and at least 2, bank above 0 and below the pins'
// spacing.
func VIntervals(cylinders int, bank Deg) []Deg {
	between := 2 * 2 * Turn / Deg(cylinders)
	first := bank
	if cylinders == 2 {
		first = Turn - bank
	}
	if first == between/2 {
		return nil
	}
	list := make([]Deg, cylinders)
	for i := range list {
		list[i] = first
		if i%2 == 1 {
			list[i] = between - first
		}
	}
	return list
}
