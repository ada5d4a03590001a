/** Where a browser of the Chromium family usually is; first the one that was built without windows, which takes half the work. */
const PLACES = [
  "/usr/bin/chromium-headless-shell",
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

/** Packages of Debian with a browser, the best first: older releases have only the second. */
const PACKAGES = ["chromium-headless-shell", "chromium"];

/** Installs a browser where that is possible without asking: as root on a Debian system. */
export async function installChromium(): Promise<void> {
  if (Deno.build.os !== "linux" || Deno.uid() !== 0 || !isFile("/usr/bin/apt-get")) return;
  console.log("No Chromium found; installing one from Debian's packages.");
  await aptGet("update");
  for (const name of PACKAGES) if (await aptGet("install", "--yes", name)) return;
}

async function aptGet(...args: string[]): Promise<boolean> {
  const env = { DEBIAN_FRONTEND: "noninteractive" };
  const options = { args, env, stdin: "null", stdout: "null", stderr: "inherit" } as const;
  return (await new Deno.Command("apt-get", options).output()).success;
}

function isFile(path: string): boolean {
  try {
    return Deno.statSync(path).isFile;
  } catch {
    return false;
  }
}
