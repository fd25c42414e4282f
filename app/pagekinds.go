package app

// pageKinds are the pages, in their order. No other place lists them.
var pageKinds = []pageKind{cycleKind, partKind, lightKind, signalsKind, causeKind, gearsKind, practiceKind}
