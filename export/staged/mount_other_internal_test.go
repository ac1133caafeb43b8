//go:build !linux

package staged

import "errors"

func mountSmall(string) error      { return errors.ErrUnsupported }
func remountReadOnly(string) error { return errors.ErrUnsupported }
func unmount(string) error         { return errors.ErrUnsupported }
