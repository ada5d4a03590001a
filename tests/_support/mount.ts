/** Small and read-only disks for tests. Only the superuser of a Linux machine can make them. */
export const canMount: boolean = Deno.build.os === "linux" && Deno.uid() === 0 && tryMount();

/** Runs `mount` with these arguments. Throws when it fails. */
export function mount(...args: string[]): void {
  run("mount", args);
}

/** Takes away what is mounted on `folder`. */
export function unmount(folder: string): void {
  run("umount", [folder]);
}

/** Mounts an empty disk in memory on `folder`. `size` is as `mount` takes it, such as "2m". */
export function mountDisk(folder: string, size: string): void {
  mount("-t", "tmpfs", "-o", `size=${size}`, "tmpfs", folder);
}

/** Gives a disk that is mounted on `folder` another size. */
export function resizeDisk(folder: string, size: string): void {
  mount("-o", `remount,size=${size}`, folder);
}

function tryMount(): boolean {
  const folder = Deno.makeTempDirSync();
  try {
    mountDisk(folder, "64k");
    unmount(folder);
    return true;
  } catch {
    return false;
  } finally {
    Deno.removeSync(folder);
  }
}

function run(command: string, args: string[]): void {
  const { success, stderr } = new Deno.Command(command, { args }).outputSync();
  if (!success) throw new Error(new TextDecoder().decode(stderr));
}
