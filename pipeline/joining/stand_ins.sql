-- One row per boat, rig version and amount: how many tears each tear with that amount stands for.
-- Damaged hauls of which nobody wrote the amount would else drop out while clean ones stay. The others
-- of that rig on that boat speak for them; where there are none, it is null, and nobody does.
with

final as (
    select
        measured_hauls.vessel,
        measured_hauls.rig_version,
        told_amounts.outcome,
        sum(measured_hauls.damage_events) / nullif(
            sum(
                case when told_amounts.amount is not null then measured_hauls.damage_events else 0 end
            ),
            0
        ) as stands_for
    from told_amounts
    inner join measured_hauls on told_amounts.row = measured_hauls.row
    group by measured_hauls.vessel, measured_hauls.rig_version, told_amounts.outcome
)

select * from final
