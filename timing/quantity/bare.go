package quantity

import "regexp"

// withUnit is a number as people type it and a unit behind it: of this program's
// values as their unit is written anywhere, the second number of a ratio to one among
// them.
var withUnit = regexp.MustCompile(`^\s*([+\-−]?[0-9][0-9_]*(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?)\s*` +
	`(?:°\s*(?:C|F|CA|BTDC|ATDC)?|º|℃|℉|deg(?:rees?)?\.?|mm|cm|m|in(?:ch(?:es)?)?\.?|″|''|"|px|pixels?|` +
	`rpm|1/min|min-1|min⁻¹|U/min|r/min|bar|k?Pa|psi|[CFK]|%|:\s*1(?:[.,]0+)?)\s*$`)

// WithoutUnit returns the number of a text that is a number with its unit behind it,
// such as "9°", "192 mm" or "17.5:1", as it was typed; ok is false for any other text.
func WithoutUnit(text string) (number string, ok bool) {
	m := withUnit.FindStringSubmatch(text)
	if m == nil {
		return "", false
	}
	return m[1], true
}
