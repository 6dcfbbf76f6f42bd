# Builds and runs every test, then prints "N passed, N failed, N skipped" as its last line.
# Browser tests look for Chromium in ROOTWATER_CHROMIUM, database tests for PostgreSQL's initdb on PATH;
# without them those tests are skipped with their reason.
Set-Location $PSScriptRoot
$results = Join-Path $PSScriptRoot 'artifacts/tests'
if (Test-Path $results) { Remove-Item -Recurse -Force $results }
New-Item -ItemType Directory -Force $results | Out-Null
dotnet build Rootwater.slnx -c Release
if ($LASTEXITCODE -ne 0) { '0 passed, 1 failed, 0 skipped'; exit 1 }
dotnet test --solution Rootwater.slnx -c Release --no-build --filter-not-trait Length=sweep --results-directory $results --report-trx
$status = $LASTEXITCODE
$passed = 0; $failed = 0; $skipped = 0
foreach ($file in Get-ChildItem $results -Filter *.trx) {
  $counters = ([xml](Get-Content -Raw $file.FullName)).TestRun.ResultSummary.Counters
  $passed += [int]$counters.passed; $failed += [int]$counters.failed; $skipped += [int]$counters.notExecuted
}
if ($failed -eq 0 -and ($status -ne 0 -or $passed -eq 0)) { $failed = 1 }
"$passed passed, $failed failed, $skipped skipped"
if ($failed -gt 0) { exit 1 }
