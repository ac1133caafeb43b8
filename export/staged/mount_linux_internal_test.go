package staged

import "syscall"

func mountSmall(dir string) error { return syscall.Mount("runnel", dir, "tmpfs", 0, "size=64k") }

func remountReadOnly(dir string) error {
	return syscall.Mount("runnel", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "")
}

func unmount(dir string) error { return syscall.Unmount(dir, syscall.MNT_DETACH) }
