// Puts the package's files where Python looks for them, straight from the wheel's bytes: no Python runs for it.
// A classic script, part of the worker's source. The build stores the wheel's files without packing them (the whole
// wheel is gzipped once instead), so reading the archive's directory is all there is to do.

/** Files of a stored zip archive, as [path, bytes] pairs. Bytes are views on `archive`, not copies. */
function* storedFiles(archive) {
  const view = new DataView(archive.buffer, archive.byteOffset, archive.byteLength);
  const END = 0x06054b50;
  const ENTRY = 0x02014b50;
  const end = archive.length - 22; // the build writes no archive comment
  if (end < 0 || view.getUint32(end, true) !== END) throw new Error("the package is not a whole zip archive");
  let at = view.getUint32(end + 16, true);
  for (let left = view.getUint16(end + 10, true); left > 0; left -= 1) {
    if (view.getUint32(at, true) !== ENTRY) throw new Error("the package's archive has a damaged directory");
    const packing = view.getUint16(at + 10, true);
    const size = view.getUint32(at + 24, true);
    const nameLength = view.getUint16(at + 28, true);
    const extraLength = view.getUint16(at + 30, true);
    const commentLength = view.getUint16(at + 32, true);
    const local = view.getUint32(at + 42, true);
    const path = new TextDecoder().decode(archive.subarray(at + 46, at + 46 + nameLength));
    if (packing !== 0) throw new Error(`the package's file ${path} is packed; it must be stored`);
    const start = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    if (!path.endsWith("/")) yield [path, archive.subarray(start, start + size)];
    at += 46 + nameLength + extraLength + commentLength;
  }
}

/** Write every file of a stored wheel under `folder` of Python's file system. */
function installWheel(FS, folder, archive) {
  for (const [path, bytes] of storedFiles(archive)) {
    const whole = `${folder}/${path}`;
    FS.mkdirTree(whole.slice(0, whole.lastIndexOf("/")));
    FS.writeFile(whole, bytes);
  }
}
