@echo off
rem Starts Rootwater on the embedded database; the first start fills it with the demo bench.
cd /d "%~dp0"
dotnet run --project src\Rootwater.Web -c Release --no-launch-profile -- --demo %*
