package call

// Slack changes nothing in a browser, which has no memory to spare.
func Slack() (end func()) { return func() {} }

// Tighten changes nothing either.
func Tighten(int) {}
