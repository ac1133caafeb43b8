// Files in memory for a program that reads and writes a disk: the calls of Node's fs that Go makes. Loaded before wasm_exec.js.
'use strict';

class Memory {
	constructor() {
		this.constants = {O_WRONLY: 1, O_RDWR: 2, O_CREAT: 64, O_EXCL: 128, O_TRUNC: 512, O_APPEND: 1024, O_DIRECTORY: 65536};
		this.clear();
		for (const call of ['open', 'close', 'read', 'write', 'fstat', 'stat', 'lstat', 'mkdir', 'readdir', 'unlink', 'rmdir', 'rename', 'link', 'truncate', 'ftruncate']) {
			this[call] = (...given) => {
				const done = given.pop();
				let result;
				try {
					result = this['do_' + call](...given);
				} catch (e) {
					done(e);
					return;
				}
				done(null, result);
			};
		}
		for (const call of ['fsync', 'chmod', 'fchmod', 'chown', 'fchown', 'lchown', 'utimes']) this[call] = (...given) => given.pop()(null);
		for (const call of ['readlink', 'symlink']) this[call] = (...given) => given.pop()(this.error('EINVAL'));
	}

	// clear takes away all files and what was printed.
	clear() {
		this.nodes = new Map([['/', {folder: true, ino: 1}], ['/roof', {folder: true, ino: 2}]]);
		this.ino = 2;
		this.open_ = new Map();
		this.next = 10;
		this.printed = {1: [], 2: []};
	}

	error(code) {
		return Object.assign(new Error(code), {code});
	}

	name(path) {
		const parts = [];
		for (const p of (path.startsWith('/') ? path : '/roof/' + path).split('/')) {
			if (p === '..') parts.pop();
			else if (p !== '' && p !== '.') parts.push(p);
		}
		return '/' + parts.join('/');
	}

	parent(name) {
		return name.slice(0, name.lastIndexOf('/')) || '/';
	}

	// put gives a file its content.
	put(path, data) {
		this.nodes.set(this.name(path), {data, size: data.length, ino: ++this.ino});
	}

	// below returns the files in a folder, by name.
	below(path) {
		const begin = this.name(path) + '/';
		return [...this.nodes.entries()].filter(([n, v]) => n.startsWith(begin) && !v.folder).map(([n, v]) => ({name: n.slice(begin.length), data: v.data.slice(0, v.size)}));
	}

	node(path) {
		const n = this.nodes.get(this.name(path));
		if (!n) throw this.error('ENOENT');
		return n;
	}

	do_open(path, flags) {
		const name = this.name(path);
		let n = this.nodes.get(name);
		const c = this.constants;
		if (n && flags & c.O_CREAT && flags & c.O_EXCL) throw this.error('EEXIST');
		if (!n) {
			if (!(flags & c.O_CREAT)) throw this.error('ENOENT');
			if (!this.nodes.get(this.parent(name))?.folder) throw this.error('ENOENT');
			n = {data: new Uint8Array(0), size: 0, ino: ++this.ino};
			this.nodes.set(name, n);
		}
		if (n.folder && flags & 3) throw this.error('EISDIR');
		if (!n.folder && flags & c.O_DIRECTORY) throw this.error('ENOTDIR');
		if (flags & c.O_TRUNC) n.size = 0;
		const fd = this.next++;
		this.open_.set(fd, {node: n, at: flags & c.O_APPEND ? n.size : 0});
		return fd;
	}

	do_close(fd) {
		this.open_.delete(fd);
	}

	file(fd) {
		const f = this.open_.get(fd);
		if (!f) throw this.error('EBADF');
		return f;
	}

	do_read(fd, buffer, offset, length, position) {
		if (fd === 0) return 0;
		const f = this.file(fd);
		if (f.node.folder) throw this.error('EISDIR');
		const at = position ?? f.at;
		const n = Math.max(0, Math.min(length, f.node.size - at));
		buffer.set(f.node.data.subarray(at, at + n), offset);
		if (position === null || position === undefined) f.at += n;
		return n;
	}

	do_write(fd, buffer, offset, length, position) {
		const part = buffer.subarray(offset, offset + length);
		if (fd === 1 || fd === 2) {
			this.printed[fd].push(part.slice());
			return length;
		}
		const f = this.file(fd);
		const at = position ?? f.at;
		const n = f.node;
		if (at + length > n.data.length) {
			const more = new Uint8Array(Math.max(2 * n.data.length, at + length, 4096));
			more.set(n.data.subarray(0, n.size));
			n.data = more;
		}
		n.data.set(part, at);
		n.size = Math.max(n.size, at + length);
		if (position === null || position === undefined) f.at = at + length;
		return length;
	}

	// writeSync is what the Go program prints its last words with.
	writeSync(fd, buffer) {
		return this.do_write(fd, buffer, 0, buffer.length, null);
	}

	state(n) {
		return {
			dev: 1, ino: n.ino, mode: n.folder ? 0o40755 : 0o100644, nlink: 1, uid: 0, gid: 0, rdev: 0, size: n.folder ? 0 : n.size, blksize: 4096, blocks: 1,
			atimeMs: 0, mtimeMs: 0, ctimeMs: 0, isDirectory: () => Boolean(n.folder),
		};
	}

	do_fstat(fd) {
		if (fd <= 2) return {...this.state({size: 0, ino: 0}), mode: 0o20666};
		return this.state(this.file(fd).node);
	}

	do_stat(path) {
		return this.state(this.node(path));
	}

	do_lstat(path) {
		return this.state(this.node(path));
	}

	do_mkdir(path) {
		const name = this.name(path);
		if (this.nodes.has(name)) throw this.error('EEXIST');
		if (!this.nodes.get(this.parent(name))?.folder) throw this.error('ENOENT');
		this.nodes.set(name, {folder: true, ino: ++this.ino});
	}

	do_readdir(path) {
		if (!this.node(path).folder) throw this.error('ENOTDIR');
		const name = this.name(path);
		return [...this.nodes.keys()].filter((n) => n !== '/' && this.parent(n) === name).map((n) => n.slice(n.lastIndexOf('/') + 1));
	}

	do_unlink(path) {
		if (this.node(path).folder) throw this.error('EISDIR');
		this.nodes.delete(this.name(path));
	}

	do_rmdir(path) {
		if (this.do_readdir(path).length > 0) throw this.error('ENOTEMPTY');
		this.nodes.delete(this.name(path));
	}

	do_rename(from, to) {
		const n = this.node(from);
		if (n.folder) throw this.error('ENOSYS');
		this.nodes.set(this.name(to), n);
		this.nodes.delete(this.name(from));
	}

	do_link(from, to) {
		if (this.nodes.has(this.name(to))) throw this.error('EEXIST');
		this.nodes.set(this.name(to), this.node(from));
	}

	do_truncate(path, length) {
		this.node(path).size = Math.min(this.node(path).size, length);
	}

	do_ftruncate(fd, length) {
		this.file(fd).node.size = Math.min(this.file(fd).node.size, length);
	}
}

globalThis.fs = new Memory();
globalThis.process = {
	getuid: () => 0, getgid: () => 0, geteuid: () => 0, getegid: () => 0, getgroups: () => [], pid: 1, ppid: 1, umask: () => 0o22, cwd: () => '/roof', chdir: () => {},
};
globalThis.path = {resolve: (p) => globalThis.fs.name(p)};
