//go:build !js

package campus

// hands are goroutines that wait for the next roof, with the stack that the last one needed: to grow it anew costs a small roof
// some hundredths of its time.
var hands = make(chan chan func(), 64)

// hand runs work in a goroutine that is free, or in a new one.
func hand(work func()) {
	select {
	case free := <-hands:
		free <- work
	default:
		go stay(work)
	}
}

// stay runs work, then what is handed to it, until others enough wait.
func stay(work func()) {
	mine := make(chan func(), 1)
	for {
		work()
		select {
		case hands <- mine:
		default:
			return
		}
		work = <-mine
	}
}
