-- One row per rig version, trip and the conditions they met: ground, boat, stretch of the record.
with

final as (
    select
        haul_factors.rig_version,
        haul_factors.ground,
        haul_factors.vessel,
        haul_factors.stretch,
        measured_hauls.trip,
        count(*) as hauls,
        sum(measured_hauls.tow_hours) as tow_hours
    from haul_factors
    inner join measured_hauls on haul_factors.row = measured_hauls.row
    group by
        haul_factors.rig_version,
        haul_factors.ground,
        haul_factors.vessel,
        haul_factors.stretch,
        measured_hauls.trip
)

select * from final
order by rig_version, ground, vessel, stretch, trip
