//go:build !linux

package needs

func waiting() bool { return false }

func announce() {}

func printWhenDone() {}
