package timing

// commonOrders are firing orders in use, by number of cylinders; the first is
// offered first. Those of 1 to 6, 8, 10 and 12 cylinders stand in general
// published lists; 1-3-2, 1-2-4-3, 1-4-2-6-3-5, the second order of eight in a
// V and the inline eight are from memory. For other numbers there is no common
// order: they are entered by hand. Cylinder numbering differs between makers,
// so the service manual decides.
var commonOrders = map[int][][]int{
	1: {{1}},
	2: {{1, 2}},
	3: {{1, 2, 3}, {1, 3, 2}},
	4: {{1, 3, 4, 2}, {1, 2, 4, 3}},
	5: {{1, 2, 4, 5, 3}},
	6: {{1, 5, 3, 6, 2, 4}, {1, 4, 2, 6, 3, 5}},
	8: {
		{1, 8, 4, 3, 6, 5, 7, 2},
		{1, 5, 4, 8, 6, 3, 7, 2},
		{1, 6, 2, 5, 8, 3, 7, 4},
	},
	10: {{1, 10, 9, 4, 3, 6, 5, 8, 7, 2}},
	12: {{1, 7, 5, 11, 3, 9, 6, 12, 2, 8, 4, 10}},
}

// CommonOrders returns the firing orders in use for engines of n cylinders, in
// the order in which to offer them; none where no order is common.
func CommonOrders(n int) [][]int {
	list := make([][]int, len(commonOrders[n]))
	for i, o := range commonOrders[n] {
		list[i] = append([]int(nil), o...)
	}
	return list
}
