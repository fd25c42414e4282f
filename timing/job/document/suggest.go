package document

import "strings"

// nearest returns the name a misspelt key most likely stands for, "" when none
// is close: one that only lacks its unit, or a few letters away.
func nearest(name string, keys []Key) string {
	if len(name) > 60 {
		return ""
	}
	plain := strings.ToLower(strings.NewReplacer("-", "_", " ", "_").Replace(name))
	for _, s := range keys {
		if plain == s.Name || len(plain) > 2 && strings.HasPrefix(s.Name, plain+"_") {
			return s.Name
		}
	}
	best, found := 1+max(1, len(plain)/4), ""
	for _, s := range keys {
		if d := editDistance(plain, s.Name); d < best {
			best, found = d, s.Name
		}
	}
	return found
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
