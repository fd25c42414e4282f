// Package schema describes the job file and the results of the calculations as JSON
// Schema 2020-12, made from the tables by which they are read, checked and written, so
// that it cannot say otherwise than they do.
//
// A schema tells which keys there are and what each may hold. What rests on two keys at
// once (a rod longer than half the stroke) is for package job to say.
package schema

import (
	"fmt"
	"math"
	"strings"

	"github.com/google/jsonschema-go/jsonschema"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/job/document"
)

const dialect = "https://json-schema.org/draft/2020-12/schema"

// Job returns the schema of a job file: of the TOML document as the same tables, lists
// and values in JSON.
func Job() *jsonschema.Schema {
	s := section("", job.Layout())
	s.Schema, s.Title = dialect, "Pinphase job"
	s.Required = []string{"engine"}
	engine := s.Properties["engine"]
	engine.Required = []string{"strokes", "firing_order"}
	engine.Properties["strokes"].Enum = []any{2, 4}
	order := engine.Properties["firing_order"]
	order.MinItems, order.MaxItems, order.UniqueItems = of(1), of(timing.MaxCylinders), true
	order.Items.Minimum, order.Items.Maximum = of(1.0), of(float64(timing.MaxCylinders))
	return s
}

// section is the schema of a table with these keys.
func section(path string, keys []document.Key) *jsonschema.Schema {
	s := &jsonschema.Schema{Type: "object", Properties: map[string]*jsonschema.Schema{}, AdditionalProperties: nothing()}
	for _, k := range keys {
		s.Properties[k.Name] = key(strings.TrimPrefix(path+"."+k.Name, "."), k)
		s.PropertyOrder = append(s.PropertyOrder, k.Name)
	}
	return s
}

func key(path string, k document.Key) *jsonschema.Schema {
	switch to := k.To.(type) {
	case document.Version:
		return &jsonschema.Schema{Type: "integer", Minimum: of(float64(to.Oldest)), Maximum: of(float64(to.Youngest))}
	case *string:
		s := &jsonschema.Schema{Type: "string"}
		for _, w := range job.Words(path) {
			s.Enum = append(s.Enum, w)
		}
		return s
	case *int, *document.Number:
		return number(path)
	case document.Repeated:
		several := list(number(path))
		several.MinItems = of(1)
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{number(path), several}}
	case *[]int:
		return list(&jsonschema.Schema{Type: "integer"})
	case *[]float64:
		return list(&jsonschema.Schema{Type: "number"})
	case *[]document.Point: // one may stand alone
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{point(), list(point())}}
	case document.Section:
		return section(path, to.Open())
	case document.List:
		if path == "evidence" {
			return &jsonschema.Schema{Type: "array", Items: evidence()}
		}
		to.Set(1)
		return list(section(path, to.Item(0)))
	}
	panic("schema: " + path + " is a key of unknown kind")
}

func list(item *jsonschema.Schema) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "array", Items: item, MaxItems: of(document.MaxItems)}
}

func point() *jsonschema.Schema {
	return &jsonschema.Schema{Type: "array", Items: &jsonschema.Schema{Type: "number"}, MinItems: of(2), MaxItems: of(2)}
}

// number is a number within the key's limits; every key of the file that takes one
// number has some, but for what evidence says.
func number(path string) *jsonschema.Schema {
	for _, k := range job.Keys() {
		if k.Key == path {
			s := &jsonschema.Schema{Type: "number", Description: k.Unit}
			if k.Whole {
				s.Type = "integer"
			}
			limit(s, k.Min, k.Max)
			if k.AboveMin {
				s.Minimum, s.ExclusiveMinimum = nil, s.Minimum
			}
			return s
		}
	}
	return &jsonschema.Schema{Type: "number"}
}

// limit sets the limits that there are.
func limit(s *jsonschema.Schema, least, most float64) {
	if !math.IsInf(least, -1) {
		s.Minimum = of(least)
	}
	if !math.IsInf(most, 1) {
		s.Maximum = of(most)
	}
}

// evidence is a piece of evidence: one schema for each kind.
func evidence() *jsonschema.Schema {
	s := &jsonschema.Schema{
		Type:     "object",
		Required: []string{"kind", "value"},
		Properties: map[string]*jsonschema.Schema{
			"kind": {Type: "string"}, "value": {}, "u": {Type: "number", Minimum: of(0.0)},
		},
		PropertyOrder:        []string{"kind", "value", "u"},
		AdditionalProperties: nothing(),
	}
	for _, k := range cause.Kinds() {
		s.OneOf = append(s.OneOf, &jsonschema.Schema{
			Description: fmt.Sprint(k.Title),
			Properties:  map[string]*jsonschema.Schema{"kind": {Const: of(any(k.Name))}, "value": values(k)},
		})
	}
	return s
}

// values are those that a kind of evidence takes. Words are taken in large and small
// letters, and other words for the same; a schema can only name examples.
func values(k cause.Kind) *jsonschema.Schema {
	words := &jsonschema.Schema{Type: "string", Description: k.Takes().String()}
	for _, w := range append(k.Judgements(), k.Words...) {
		words.Examples = append(words.Examples, w)
	}
	switch k.Value {
	case cause.YesNo:
		words.Examples = []any{"no", "yes"}
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "boolean"}, words}}
	case cause.Word:
		return words
	}
	s := &jsonschema.Schema{Type: "number", Description: string(k.Unit)}
	if k.Whole {
		s.Type = "integer"
	}
	limit(s, k.Min, k.Max)
	if k.Judgements() != nil {
		return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{s, words}}
	}
	return s
}

// nothing is the schema that allows no value.
func nothing() *jsonschema.Schema { return &jsonschema.Schema{Not: &jsonschema.Schema{}} }

func of[T any](v T) *T { return &v }
