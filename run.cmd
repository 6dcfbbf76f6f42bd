@echo off
rem Starts Rootwater on the embedded database; the first start fills it with the demo bench.
rem The code is not looked over by its analyzers here, which takes longer than compiling it; the tests do that.
cd /d "%~dp0"
dotnet run --project src\Rootwater.Web -c Release --no-launch-profile -p:RunAnalyzers=false -- --demo %*
