package wire

import "wayhouse/api/phrase"

// teller puts answers into their wire form in one language.
type teller struct{ *phrase.Language }
