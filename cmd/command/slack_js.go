package command

// slack changes nothing in a browser, which has no memory to spare.
func slack() (end func()) { return func() {} }

func tighten(int) {}
