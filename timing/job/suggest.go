package job

import (
	"slices"
	"strings"
)

// layout returns the slots of every section by its path, "" for the file itself.
// Items of lists go by the name of the list: "evidence".
func layout() map[string][]slot {
	all := map[string][]slot{"evidence": new(Evidence).slots()}
	var walk func(path string, slots []slot)
	walk = func(path string, slots []slot) {
		all[path] = slots
		for _, s := range slots {
			if sub, ok := s.to.(section); ok {
				walk(strings.TrimPrefix(path+"."+s.name, "."), sub.open())
			}
		}
	}
	walk("", new(Job).slots())
	return all
}

// knownNames returns the names of all sections, dotted, and of all keys.
func knownNames() map[string]bool {
	known := map[string]bool{}
	for path, slots := range layout() {
		known[path] = true
		for _, s := range slots {
			known[s.name] = true
		}
	}
	delete(known, "")
	return known
}

// nearest returns the name a misspelt key most likely stands for, "" when none
// is close: one that only lacks its unit, or a few letters away.
func nearest(name string, slots []slot) string {
	if len(name) > 60 {
		return ""
	}
	plain := strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(name))
	for _, s := range slots {
		if plain == s.name || len(plain) > 2 && strings.HasPrefix(s.name, plain+"_") {
			return s.name
		}
	}
	best, found := 1+max(1, len(plain)/4), ""
	for _, s := range slots {
		if d := editDistance(plain, s.name); d < best {
			best, found = d, s.name
		}
	}
	return found
}

// owners returns the sections that have a key of this name, in order.
func owners(name string) []string {
	var list []string
	for path, slots := range layout() {
		for _, s := range slots {
			if s.name == name && path != "" {
				list = append(list, "["+path+"]")
			}
		}
	}
	slices.Sort(list)
	return list
}

// editDistance counts the letters to insert, drop, change or swap with their
// neighbour to make b of a.
func editDistance(a, b string) int {
	var older []int
	old := make([]int, len(b)+1)
	for j := range old {
		old[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row := make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(old[j]+1, row[j-1]+1, old[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
		older, old = old, row
	}
	return old[len(b)]
}
