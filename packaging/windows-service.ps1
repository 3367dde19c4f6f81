# Installs TrimAssist as a Windows service, started with the machine. Run in an elevated PowerShell, in the unpacked folder.
param([Parameter(Mandatory)][string] $Config, [string] $Data = "$env:ProgramData\TrimAssist")
$ErrorActionPreference = 'Stop'
$program = Join-Path $PSScriptRoot 'trimassist.exe'
New-Item -ItemType Directory -Force -Path $Data | Out-Null
New-Service -Name TrimAssist -DisplayName 'TrimAssist' -StartupType Automatic `
    -Description 'A service beside a mixing desk: reads the meters, proposes trims, warns.' `
    -BinaryPathName "`"$program`" serve --config `"$Config`" --data `"$Data`""
# Three restarts a second apart, then every ten seconds; counted anew each day.
sc.exe failure TrimAssist reset= 86400 actions= restart/1000/restart/1000/restart/10000 | Out-Null
Start-Service TrimAssist
