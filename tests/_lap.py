import re
p='core/plan/replan.ts'
s=open(p).read()
L='(globalThis as any).lap?.("%s");\n'
for a,name in [("  const hash = await seasonHash","check"),("  const revision = options.revision","hash"),("  const problem = problemOf","same"),("  const tanks = tankBoard","problem"),("  const mended = mendPlan","evaluator+fixed"),("  const start = startOf","mend"),("  const near = {","start"),("  const found = searchAround","near"),("  let best = planOf(found)","search"),("  const isStart =","planOf"),("  // The accepted plan to the letter","second"),("  if (best.breaches.length === 0) return planned","letter")]:
    assert a in s,a
    s=s.replace(a,L%name+a,1)
s=s.replace("    return keptOf(season, from, priced",L%"finish"+"    return keptOf(season, from, priced")
open('/tmp/rp/replan_lap.ts','w').write(s)
open('core/plan/_replan_lap.ts','w').write(s)
