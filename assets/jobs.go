package assets

import _ "embed"

// DemoJob is the job file both programs open when nothing else is named.
//
//go:embed jobs/demo.toml
var DemoJob []byte

// DemoName is what the demo job is called where a file name is wanted.
const DemoName = "demo"
