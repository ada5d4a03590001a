/** Where a browser of the Chromium family usually is. */
const PLACES = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/opt/google/chrome/chrome",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
];

/** The path of a browser: the one that CHROMIUM names, or else the first that is where browsers usually are. */
export function findChromium(): string | null {
  const named = Deno.env.get("CHROMIUM");
  if (named) return isFile(named) ? named : null;
  return PLACES.find(isFile) ?? null;
}

/** Installs the package chromium where that is possible without asking: as root on a Debian system. */
export async function installChromium(): Promise<void> {
  if (Deno.build.os !== "linux" || Deno.uid() !== 0 || !isFile("/usr/bin/apt-get")) return;
  console.log("No Chromium found; installing the Debian package chromium.");
  for (const args of [["update"], ["install", "--yes", "chromium"]]) {
    const env = { DEBIAN_FRONTEND: "noninteractive" };
    const options = { args, env, stdin: "null", stdout: "null", stderr: "inherit" } as const;
    const { success } = await new Deno.Command("apt-get", options).output();
    if (!success) return;
  }
}

function isFile(path: string): boolean {
  try {
    return Deno.statSync(path).isFile;
  } catch {
    return false;
  }
}
