package follow

// forget lets go of the nodes that no way still in hand goes back through, once edge i
// has been taken: of a long recording nearly all. A survivor's past is one way, and those of
// all survivors soon become the same.
func (f *follower) forget(i int) {
	oldest := max(i-mostExtra, 0) // the next edge may go on from here
	kept, idle := make([]bool, len(f.nodes)), make([]bool, i+1)
	for k := f.first[oldest]; k < len(f.nodes); k++ {
		f.goBack(k, -1, kept, idle)
	}
	f.goBack(-1, i, kept, idle)

	to, n := make([]int, len(f.nodes)+1), 0
	for k, is := range kept {
		to[k] = n
		if !is {
			continue
		}
		f.nodes[n] = f.nodes[k]
		if from := f.nodes[n].from; from >= 0 {
			f.nodes[n].from = to[from]
		}
		n++
	}
	to[len(f.nodes)] = n
	f.nodes = f.nodes[:n]
	for e, k := range f.left[:i+1] {
		switch {
		case k >= 0 && kept[k]:
			f.left[e] = to[k]
		default:
			f.left[e] = -1 // or a way that is gone: nothing comes by here any more
		}
	}
	for e := oldest; e <= i; e++ {
		f.first[e] = to[f.first[e]]
	}
}

// goBack marks all that a way goes back through, as [follower.path] does: from node k, or
// for -1 from following nothing at edge e.
func (f *follower) goBack(k, e int, kept, idle []bool) {
	for k >= 0 || e >= 0 {
		switch {
		case k >= 0 && kept[k] || k < 0 && idle[e]:
			return
		case k < 0:
			idle[e] = true
			k = f.left[e]
			e--
		default:
			kept[k] = true
			e = f.nodes[k].edge - 1
			k = f.nodes[k].from
			if k >= 0 {
				e = -1
			}
		}
	}
}
