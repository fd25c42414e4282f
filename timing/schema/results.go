package schema

import (
	"fmt"
	"maps"
	"math/big"
	"reflect"
	"slices"

	"github.com/google/jsonschema-go/jsonschema"
)

// Results returns one schema for all results: each is an object of its own definition,
// which has the name under which a value of its type is given here. A pointer may be
// null, and a later version may add fields.
func Results(of map[string]any) (*jsonschema.Schema, error) {
	all := &jsonschema.Schema{Schema: dialect, Title: "Results of pincalc --json, by command", Defs: map[string]*jsonschema.Schema{}}
	for _, name := range slices.Sorted(maps.Keys(of)) {
		s, err := jsonschema.ForType(reflect.TypeOf(of[name]), &jsonschema.ForOptions{TypeSchemas: numbers})
		if err != nil {
			return nil, fmt.Errorf("schema: %s: %w", name, err)
		}
		open(s)
		s.Title = name
		all.Defs[name] = s
		all.AnyOf = append(all.AnyOf, &jsonschema.Schema{Ref: "#/$defs/" + name})
	}
	return all, nil
}

// numbers are types that the library takes for texts, but that are written as numbers.
var numbers = map[reflect.Type]*jsonschema.Schema{reflect.TypeFor[big.Int](): {Type: "integer"}}

// open lets objects have more fields than are known.
func open(s *jsonschema.Schema) {
	if s == nil {
		return
	}
	if s.Properties != nil {
		s.AdditionalProperties = nil
	}
	open(s.Items)
	open(s.AdditionalProperties)
	for _, p := range s.Properties {
		open(p)
	}
	for _, p := range s.AnyOf {
		open(p)
	}
}
