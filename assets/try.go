package assets

import "embed"

// Try are jobs with photographs and recordings to try the program on, all invented and
// simulated: in the folder try, beside each other, as their job files name them.
//
//go:embed try
var Try embed.FS
